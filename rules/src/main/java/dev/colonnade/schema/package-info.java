/**
 * The tables, keys and indexes as they stand after the last change set. Knows nothing of changelogs
 * or SQL text.
 */
package dev.colonnade.schema;
