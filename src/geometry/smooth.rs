//! A smooth closed outline from the points of a hand tracing.
