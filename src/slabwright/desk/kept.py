"""Results of long work, kept in the store under the hash of what they came from."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

import sqlalchemy as sa

from slabwright.store import results
from slabwright.store.engine import reading, writing


@dataclass(frozen=True)
class StoreKept:
    """A kitchen's kept results."""

    engine: sa.Engine
    kitchen_id: int

    def get(self, key: str) -> dict[str, Any] | None:
        """What was worked out under this key; None if nothing was."""
        with reading(self.engine) as connection:
            return results.kept(connection, self.kitchen_id, key)

    def put(self, key: str, kind: str, value: dict[str, Any]) -> None:
        """Keep it."""
        with writing(self.engine) as connection:
            now = datetime.now(UTC)
            results.keep(connection, self.kitchen_id, key, kind, value, now)
