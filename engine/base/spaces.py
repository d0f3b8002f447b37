"""The namespaces of the base."""

from __future__ import annotations

SPACES = {
    "abl": "https://abluent.example/ns#",
    "ing": "https://abluent.example/ingredient/",
    "claim": "https://abluent.example/claim/",
    "src": "https://abluent.example/source/",
    "stem": "https://abluent.example/stem/",
}
"""The namespaces of the base, by prefix."""
