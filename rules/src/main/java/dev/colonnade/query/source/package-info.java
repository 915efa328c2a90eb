/**
 * Finds the texts of queries: in annotations of compiled classes and in SQL files. Understands none
 * of them.
 */
package dev.colonnade.query.source;
