"""What all models share: no unknown fields, and how seconds and scores are rounded when written."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, PlainSerializer

Seconds = Annotated[float, PlainSerializer(lambda value: round(value, 2), return_type=float)]
Score = Annotated[float, PlainSerializer(lambda value: round(value, 3), return_type=float)]


class Model(BaseModel):
    """Base of every model here: unknown fields are refused."""

    model_config = ConfigDict(extra="forbid")
