"""Plans of a rebuild: the torque wanted, what each place may take, and the proven best choice."""
