/**
 * Expressions and predicates over columns, shared by queries and by the indexes that are built on
 * expressions or restricted by a predicate.
 */
package dev.colonnade.predicate;
