"""Following an athlete on a page: what changed, what training brought, what it cost, what to do."""
