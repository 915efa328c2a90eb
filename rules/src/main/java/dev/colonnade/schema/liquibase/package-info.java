/**
 * Reads Liquibase changelogs, without a database and without running code of the service under
 * check. The only package that knows Liquibase.
 */
package dev.colonnade.schema.liquibase;
