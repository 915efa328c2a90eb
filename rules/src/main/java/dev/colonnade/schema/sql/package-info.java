/**
 * Reads statements that define tables and indexes. Which column a clause belongs to is read from
 * the words themselves, in the syntax of all supported databases at once; expressions and
 * predicates in it are left to {@link dev.colonnade.sql}.
 */
package dev.colonnade.schema.sql;
