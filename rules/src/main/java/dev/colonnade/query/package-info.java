/** What the service asks of the database, in terms of tables, columns and conditions. */
package dev.colonnade.query;
