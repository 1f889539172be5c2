"""What the command line and the pages ask of a job: open it, look at it, plan it, log to it, hand it over.

The desk stands above the rooms: it takes events out of the ledger, folds them, has the planner plan from where the job
stands, and puts what was said back into the ledger. It shows nothing itself.
"""
