/**
 * Asks the planner of a real database about the queries of a service and holds its plans against
 * the predicted access paths. The only package that opens a connection.
 */
package dev.colonnade.measure;
