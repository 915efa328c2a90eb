package dev.colonnade.query;

import dev.colonnade.location.SourceLocation;

/**
 * A query as found, before it is understood.
 *
 * @param id stable identity: {@code package.Type.method} or {@code FILE:LINE}
 * @param location where it stands
 * @param source what kind of place that is
 * @param text the text as written
 * @param sql the text in SQL over the physical schema; equal to {@code text} for native queries
 */
public record QueryText(
    String id, SourceLocation location, QuerySource source, String text, String sql) {}
