"""The stored order desk: orders with their pieces, preparation lists, stock, export and import."""
