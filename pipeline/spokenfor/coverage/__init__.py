"""Coverage: from statements and the sound ledger to item statuses, findings and the walk."""
