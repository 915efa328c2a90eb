/**
 * How the classes of a service lie in its tables: entities, attributes and the ways from one to
 * another.
 */
package dev.colonnade.mapping;
