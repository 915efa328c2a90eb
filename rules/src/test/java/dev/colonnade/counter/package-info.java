/**
 * Holds the estimates against what databases count: entries read through an index, calls of a join,
 * pages of one index against another, on open data whose statistics were collected from it.
 */
package dev.colonnade.counter;
