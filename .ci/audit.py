"""Audits DXF files with ezdxf: exits 1 unless each has 0 errors and needs 0 fixes."""

import sys

import ezdxf
from ezdxf.audit import AuditError


def is_known_slip(fix):
    """ezdxf 0.18 forgets the owner of every SEQEND inside a block of an R12 file, its own files included."""
    return fix.code == AuditError.INVALID_OWNER_HANDLE and fix.message.startswith("Deleted SEQEND")


bad = 0
for name in sys.argv[1:]:
    auditor = ezdxf.readfile(name).audit()
    fixes = [fix for fix in auditor.fixes if not is_known_slip(fix)]
    print(f"{name}: {len(auditor.errors)} errors, {len(fixes)} fixes")
    bad += len(auditor.errors) + len(fixes)
sys.exit(1 if bad or len(sys.argv) < 2 else 0)
