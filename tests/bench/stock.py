"""How much of the common stock of inspectors' words is read rightly, said in every frame of every thing.

    python -m tests.bench.stock [--show] [--mark]

`--show` prints what is wrong, `--mark` puts "!" before the words in tests/reading/stock that any frame gets
wrong, and takes it from those that none does.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import Annotated

import typer
from tests.reading.stock_phrases import STOCK, THREE_THINGS, general, of_kinds, sentences


def main(
    show: Annotated[bool, typer.Option(help="Print what is read wrongly")] = False,
    mark: Annotated[bool, typer.Option(help="Mark what is read wrongly in the files")] = False,
) -> None:
    wrong: dict[str, set[str]] = defaultdict(set)
    print("| said of | verdict | read rightly | faults ticked | false defects |")
    print("| --- | --- | --- | --- | --- |")
    for title, phrases in (("anything", general(True)), ("things of a kind", of_kinds(True))):
        said, right, ticked, false = Counter[str](), Counter[str](), Counter[str](), Counter[str]()
        for one in phrases:
            verdicts = one.read()
            said[one.verdict] += 1
            good = one.is_right(verdicts)
            right[one.verdict] += good
            if good:
                continue
            wrong[title].add(f"{one.verdict} | {one.words}")
            bad = one.verdict == "defect"
            ticked[one.verdict] += bad and set(verdicts) == {"satisfactory"}
            false[one.verdict] += not bad and "defect" in verdicts
            if show:
                print(
                    f"  {one.verdict} -> {'/'.join(sorted(verdicts)) or 'nothing'}: {one.sentence}"
                )
        for verdict, number in said.items():
            print(
                f"| {title} | {verdict} | {right[verdict] / number:.3f} of {number} "
                f"| {ticked[verdict]} | {false[verdict]} |"
            )
    wrong["sentences"] = _sentences(show)
    if mark:
        _mark(wrong)


def _sentences(show: bool) -> set[str]:
    """Prints how many results of sentences about several things are right; the sentences that go wrong."""
    total, missed, wrong = 0, 0, set[str]()
    for number, one in enumerate(sentences(True)):
        got = one.wrong()
        total, missed = total + len(one.expected), missed + len(got)
        if got:
            wrong.add(str(number // len(THREE_THINGS)))
        if got and show:
            print(f"  {got}: {one.sentence}")
    print(f"| sentences | all | {1 - missed / total:.3f} of {total} | | |")
    return wrong


def _mark(wrong: dict[str, set[str]]) -> None:
    for path in sorted(STOCK.glob("*.txt")):
        if path.name == "no_result.txt":
            continue  # Its marks are kept by hand.
        of = wrong["things of a kind" if path.name == "kinds.txt" else "anything"]
        lines, number = [], -1
        for line in path.read_text("utf-8").splitlines():
            if line and not line.startswith("#") and path.name == "sentences.txt":
                number += 1
                line = line.removeprefix("!")
                line = f"!{line}" if str(number) in wrong["sentences"] else line
            elif line and not line.startswith("#"):
                verdict, what, words = (part.strip() for part in line.split("|"))
                marked = []
                for one in words.split(", "):
                    plain = one.strip().removeprefix("!")
                    missed = f"{verdict} | {plain.replace(' ;', ',')}" in of
                    marked.append(f"!{plain}" if missed else plain)
                line = f"{verdict} | {what} | {', '.join(marked)}"
            lines.append(line)
        path.write_text("\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    typer.run(main)
