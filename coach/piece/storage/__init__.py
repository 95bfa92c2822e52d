"""The store of pieces: the SQLite file, its events, snapshots and recovery."""
