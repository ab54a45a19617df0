"""The window of Batchmend."""
