/** Turns the text of SQL statements into queries over the schema. The only road to them. */
package dev.colonnade.query.sql;
