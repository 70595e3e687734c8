"""One record for each kind of entry, and the forms of the small kinds."""
