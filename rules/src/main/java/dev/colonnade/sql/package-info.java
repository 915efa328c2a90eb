/**
 * Reads SQL text with JSqlParser and turns its expressions into ours. The only package beside its
 * users {@code query.sql} and {@code schema.sql} that knows JSqlParser.
 */
package dev.colonnade.sql;
