"""Sound in, Transcript out: decoding, sound quality, weights, transcription, sound ledger."""
