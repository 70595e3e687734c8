"""What leaves a log as a whole and comes back: zip files, a backup a day, and what a backup brings back."""
