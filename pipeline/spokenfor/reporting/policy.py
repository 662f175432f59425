"""By which digest does a page's security policy admit its own script and style?"""

from __future__ import annotations

import base64
import hashlib


def policy_hash(text: str) -> str:
    """The source expression of an inline script or style (W3C Content Security Policy Level 3, hash-source)."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
