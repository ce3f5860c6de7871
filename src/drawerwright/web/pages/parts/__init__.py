"""What several pages share: the frame of a job's pages, waiting for a plan, the choice of a corner or a day."""
