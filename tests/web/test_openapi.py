"""The whole interface against its own OpenAPI description: no answer is the server's own fault (5xx)."""

from __future__ import annotations

import schemathesis
from hypothesis import HealthCheck, given, settings
from tests.web.workbench import Workbench


def test_no_request_makes_the_server_fail(bench: Workbench):
    described = bench.client.get("/openapi.json").json()
    schema = schemathesis.openapi.from_dict(described)
    schema.config.update(base_url=bench.base)
    cookie = "; ".join(f"{one.name}={one.value}" for one in bench.client.cookies.jar)
    headers = {"Cookie": cookie, "X-CSRF": bench.csrf}
    asked = 0
    for found in schema.get_all_operations():
        operation = found.ok()
        if operation.path.endswith("/events"):
            continue  # a stream without end; its errors are those of /status

        @settings(
            max_examples=8,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(case=operation.as_strategy())
        def ask(case) -> None:
            nonlocal asked
            asked += 1
            answer = case.call(headers=headers, timeout=20)
            assert answer.status_code < 500, (case.method, answer.request.url, answer.text)

        ask()
    assert asked > 100
    assert bench.client.get("/").status_code == 200
