/** Basins of a dry dock that are let by the day: a service with rarer mappings and queries. */
package dev.colonnade.query.jpql.basin;
