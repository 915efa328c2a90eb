/** Aggregates that do not fit, for what is said of them. */
package dev.colonnade.query.jpql.shoal;
