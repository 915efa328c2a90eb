/**
 * Mapping files, {@code orm.xml} and {@code hbm.xml}: what they say of classes, as annotations, and
 * the queries that they hold.
 */
package dev.colonnade.mapping.xml;
