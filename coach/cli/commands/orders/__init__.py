"""The commands of the order desk."""
