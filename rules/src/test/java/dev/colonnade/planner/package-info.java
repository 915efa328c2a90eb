/**
 * Holds access paths against what the planners of real databases do: each runs embedded, is asked
 * about generated schemas and queries, and its word is compared with ours.
 */
package dev.colonnade.planner;
