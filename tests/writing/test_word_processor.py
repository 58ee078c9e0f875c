"""The tracked changes of a saved document, accepted and rejected by LibreOffice Writer itself."""

import os
import shutil
import subprocess
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from rewriter.model import Edit
from rewriter.writing import measure, save, write
from tests.writing.cards import AIR, CARD, amount, card, item

OFFICE = shutil.which("soffice")
pytestmark = pytest.mark.skipif(OFFICE is None and not os.environ.get("CI"), reason="LibreOffice Writer is missing")

MACRO = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Module1" script:language="StarBasic">
Sub Settle(source As String, target As String, verb As String)
  Dim hidden(0) As New com.sun.star.beans.PropertyValue
  hidden(0).Name = "Hidden"
  hidden(0).Value = True
  paper = StarDesktop.loadComponentFromURL(source, "_blank", 0, hidden())
  dispatcher = createUnoService("com.sun.star.frame.DispatchHelper")
  dispatcher.executeDispatch(paper.CurrentController.Frame, verb, "", 0, Array())
  Dim how(1) As New com.sun.star.beans.PropertyValue
  how(0).Name = "FilterName"
  how(0).Value = "Text (encoded)"
  how(1).Name = "FilterOptions"
  how(1).Value = "UTF8,LF"
  paper.storeToURL(target, how())
  paper.close(True)
End Sub
</script:module>
"""
LIBRARY = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard" library:readonly="false"
 library:passwordprotected="false"><library:element library:name="Module1"/></library:library>
"""


@pytest.fixture(scope="module")
def profile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A profile of the word processor that holds the macro."""
    home = tmp_path_factory.mktemp("office")
    office(home, "--terminate_after_init")  # a first start lays out the profile
    basic = home / "user" / "basic" / "Standard"
    (basic / "script.xlb").write_text(LIBRARY, "utf-8")
    (basic / "Module1.xba").write_text(MACRO, "utf-8")
    return home


def office(profile: Path, *words: str) -> None:
    """Run the word processor without a window."""
    assert OFFICE is not None
    home = f"-env:UserInstallation={profile.as_uri()}"
    subprocess.run([OFFICE, home, "--headless", "--norestore", *words], check=True, timeout=180, capture_output=True)


def settled(profile: Path, document: Path, verb: str) -> str:
    """The document's text after all its tracked changes were accepted or rejected there."""
    target = document.with_suffix(f".{verb[5:11]}.txt")
    office(profile, f'macro:///Standard.Module1.Settle("{document.as_uri()}","{target.as_uri()}","{verb}")')
    return target.read_text("utf-8-sig")


def test_the_word_processor_takes_its_changes_as_its_own(profile: Path, tmp_path: Path) -> None:
    recipe, plan = card()
    eggs = item(CARD, "eggs", "egg", amount(CARD, "3", "3", "each", CARD.index("\n3 eggs")))
    water = Edit("liquid", eggs.end, eggs.end, "insert", Fraction(2), "w", "s", unit="tbsp", addition="water")
    recipe = replace(recipe, ingredients=(*recipe.ingredients, eggs))
    plan = replace(plan, edits=(*plan.edits, water))
    changes = measure(CARD, recipe, plan)
    path = tmp_path / "cake.docx"
    save(path, CARD, [recipe], [plan], changes, [], AIR)
    assert settled(profile, path, ".uno:RejectAllTrackedChanges").rstrip("\n") == CARD.rstrip("\n")
    accepted = settled(profile, path, ".uno:AcceptAllTrackedChanges").split("=== Altitude notes")[0]
    assert "\n3 eggs\n2 Tbsp water\n" in accepted
    clean = write(CARD, [recipe], [plan], changes, [], AIR, style="clean").splitlines()
    assert accepted.strip() == "\n".join(line for line in clean if not line.startswith("Adjusted for")).strip()
