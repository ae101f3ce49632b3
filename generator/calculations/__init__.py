"""The arithmetic of the job: plain quantities in, a small result out. Knows no records and no cites."""
