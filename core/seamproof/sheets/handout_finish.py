"""What the typesetter cannot set: how a viewer prints."""

from __future__ import annotations

import io


def with_print_settings(pdf: bytes) -> bytes:
    """The same document, asking viewers for no scaling and one side only; the same bytes each time.

    Source: ISO 32000-1, 12.2, viewer preferences: PrintScaling None, Duplex Simplex, PickTrayByPDFSize true.
    """
    import pikepdf

    with pikepdf.open(io.BytesIO(pdf)) as document:
        preferences = document.Root.get("/ViewerPreferences", pikepdf.Dictionary())
        preferences["/PrintScaling"] = pikepdf.Name("/None")
        preferences["/Duplex"] = pikepdf.Name("/Simplex")
        preferences["/PickTrayByPDFSize"] = True
        preferences["/DisplayDocTitle"] = True
        document.Root["/ViewerPreferences"] = preferences
        written = io.BytesIO()
        document.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
        return written.getvalue()
