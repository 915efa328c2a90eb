/** Reads the mapping of classes to tables out of class files. */
package dev.colonnade.mapping.source;
