package dev.colonnade.mapping.xml;

import dev.colonnade.location.SourceLocation;

/**
 * A named query of a mapping file.
 *
 * @param file the file, relative to the directory of classes
 * @param name its name
 * @param text the query
 * @param isNative true for SQL, false for a query over entities
 * @param location where its element starts
 * @param textLine the line of the file on which the text starts
 */
public record XmlQuery(
    String file,
    String name,
    String text,
    boolean isNative,
    SourceLocation location,
    int textLine) {}
