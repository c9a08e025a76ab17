from __future__ import annotations

import hashlib
import os
import subprocess
import sys

import pytest

import seamproof as sp
from seamproof.testing import check_family

FAMILIES = sp.families()
DIGEST = """
import hashlib, seamproof as sp
for slug, family in sp.families().items():
    for name in family.designs:
        print(slug, hashlib.sha256(repr(family.draft(family.design(name), 6.0)).encode()).hexdigest())
"""


@pytest.mark.parametrize("slug", FAMILIES)
def test_a_family_keeps_the_laws(slug: str) -> None:
    check_family(FAMILIES[slug])


def test_the_hash_seed_and_the_locale_change_no_byte() -> None:
    seen = set()
    for seed, locale, zone in (("1", "C", "UTC"), ("2", "C.UTF-8", "Asia/Kathmandu")):
        env = os.environ | {"PYTHONHASHSEED": seed, "LC_ALL": locale, "TZ": zone}
        run = subprocess.run([sys.executable, "-c", DIGEST], env=env, capture_output=True, check=True)
        assert run.stdout
        seen.add(hashlib.sha256(run.stdout).hexdigest())
    assert len(seen) == 1
