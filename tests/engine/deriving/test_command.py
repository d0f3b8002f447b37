"""The command that writes the derived files, when it goes wrong."""

from __future__ import annotations

from pathlib import Path

import abluent.ontology
import pytest
from abluent.engine.deriving import __main__ as command


def test_what_was_derived_stays_when_the_base_cannot_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = tmp_path / "derived" / "names" / "some.ttl"
    kept.parent.mkdir(parents=True)
    kept.write_text("as it was", encoding="utf-8")

    def broken(ontology: Path) -> dict[str, str]:
        assert not kept.exists()
        (ontology / "derived").mkdir()
        raise ValueError("a file of the base is broken")

    monkeypatch.setattr(abluent.ontology, "__path__", [str(tmp_path)])
    monkeypatch.setattr(command, "_written", broken)
    with pytest.raises(ValueError, match="broken"):
        command.main()
    assert kept.read_text(encoding="utf-8") == "as it was"
