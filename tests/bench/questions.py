"""What a question costs in CPU: `python questions.py [QUESTION]`.

Cold is a whole process of the command, start and exit included, once with what earlier
runs kept in the cache and once with an empty cache. Warm is a further question in one
process, with its proof and its JSON. The least of several runs counts, as other work on
the machine only adds.
"""

from __future__ import annotations

import gc
import json
import os
import resource
import subprocess
import sys
import tempfile
import time

QUESTION = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'
CODE = "from abluent.shell.command.cli import script; script()"
RUNS = 10


def cold(question: str, cache: str, *options: str) -> float:
    """CPU seconds of one process that answers one question."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [sys.executable, "-c", CODE, "ask", *options, question],
        env={**os.environ, "XDG_CACHE_HOME": cache},
        stdout=subprocess.DEVNULL,
        check=True,
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    spent = after.ru_utime - before.ru_utime
    return spent + after.ru_stime - before.ru_stime


def warm(question: str) -> tuple[float, float]:
    """CPU seconds of an answer and of its proof and JSON, in one process."""
    from abluent.shell.pages.answer_data import answer_json  # noqa: PLC0415 - not for `cold`
    from abluent.shell.session.session import Session  # noqa: PLC0415

    gc.set_threshold(200_000)
    session = Session.open()
    answers, shown = [], []
    for _ in range(RUNS):
        start = time.process_time()
        answer = session.ask(question)
        asked = time.process_time()
        json.dumps(answer_json(answer, question))
        answers.append(asked - start)
        shown.append(time.process_time() - asked)
    return min(answers), min(shown)


def main() -> None:
    """Print one row for each way to ask."""
    question = " ".join(sys.argv[1:]) or QUESTION
    with tempfile.TemporaryDirectory() as cache:
        print(f"{'cold, nothing kept':22} {cold(question, cache) * 1e3:7.0f} ms")
        for name, options in (("cold", ()), ("cold, JSON", ("--json",))):
            spent = min(cold(question, cache, *options) for _ in range(RUNS))
            print(f"{name:22} {spent * 1e3:7.0f} ms")
    answered, shown = warm(question)
    print(f"{'warm':22} {answered * 1e3:7.1f} ms")
    print(f"{'its proof and JSON':22} {shown * 1e3:7.1f} ms")


if __name__ == "__main__":
    main()
