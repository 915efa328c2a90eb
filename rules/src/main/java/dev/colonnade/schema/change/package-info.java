/**
 * Effects on a schema as values, and the fold that turns a sequence of them into the schema that
 * the database will have. Knows nothing of changelog formats or SQL text.
 */
package dev.colonnade.schema.change;
