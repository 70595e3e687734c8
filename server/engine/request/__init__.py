"""What goes in and comes out: fields and their errors, units, dates, and the one door to a calculation."""
