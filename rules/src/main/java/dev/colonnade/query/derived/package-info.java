/** Reads the queries that names of repository methods stand for. */
package dev.colonnade.query.derived;
