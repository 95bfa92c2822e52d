"""Where pieces are kept: the SQLite file, its events, snapshots and recovery."""
