/**
 * Colonnade: which index serves which query of a service, said at build time and without a
 * database.
 *
 * <p>One road for data: changelog to schema; every query source to SQL in the physical schema to a
 * query; both to access paths, to rules, to findings, to reports. Everything here is internal until
 * 1.0 except rule ids and the report formats.
 */
package dev.colonnade;
