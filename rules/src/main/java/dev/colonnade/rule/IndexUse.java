package dev.colonnade.rule;

import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;

/**
 * A query that reads an index.
 *
 * @param query the query
 * @param access the use of the table
 * @param candidate what the index does there: the chosen way, or one branch of it
 */
public record IndexUse(QueryAccess query, TableAccess access, Candidate candidate) {}
