"""What the commands of the order desk share: options, prices, the maker's own hands."""
