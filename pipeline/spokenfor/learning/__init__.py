"""What may a pack learn from the words that people corrected? Nothing is learned without a person's yes."""
