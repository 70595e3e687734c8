"""What a workshop's own log has shown: lines through few readings, each drawn towards those of its like."""
