"""A file spoilt in a few places is taken or refused in one plain line; `benchmarks/fuzzing` tries 100,000."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchmarks import fuzzing

READERS = fuzzing.readers()


@pytest.mark.parametrize("name", READERS)
def test_an_example_is_taken(name: str) -> None:
    assert fuzzing.check_reader(READERS[name], READERS[name].example)


@pytest.mark.parametrize("name", READERS)
def test_any_text_is_taken_or_refused_in_one_plain_line(name: str) -> None:
    @settings(max_examples=20, suppress_health_check=list(HealthCheck))
    @given(fuzzing.texts_for(READERS[name]))
    def tried(text: str) -> None:
        fuzzing.check_reader(READERS[name], text)

    tried()


@pytest.mark.parametrize("command", fuzzing.COMMANDS, ids=lambda command: " ".join(command.files))
def test_a_command_answers_or_refuses_whatever_its_file_says(
    command: fuzzing.Command, tmp_path: Path
) -> None:
    example = (fuzzing.EXAMPLES / command.files[-1]).read_text(encoding="utf-8")

    @settings(max_examples=4, suppress_health_check=list(HealthCheck))
    @given(st.one_of(st.just(example), fuzzing.spoilt(example)))
    def tried(text: str) -> None:
        fuzzing.check_command(command, text, tmp_path)

    tried()
