"""The order desk: quotes, stock, batches and kits, worked out from values alone."""
