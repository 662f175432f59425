"""The last stage: the inspection folder, its review log, the seal, and what an auditor checks. It uses the
stages before it; none of them uses it."""
