// Filled in with the office pages.
