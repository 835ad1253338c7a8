//! The one place that writes SQL: cars, floors, snapshots and readings, each reading its own transaction.
