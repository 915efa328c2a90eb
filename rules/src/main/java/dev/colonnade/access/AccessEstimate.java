package dev.colonnade.access;

import dev.colonnade.statistics.Confidence;

/**
 * What one execution reads of one table.
 *
 * @param entries index entries read; 0 for a full table scan
 * @param indexPages pages of the index read
 * @param tablePages pages of the table read
 * @param rows rows left after every predicate on the table
 * @param confidence how far the numbers can be trusted
 */
public record AccessEstimate(
    double entries, double indexPages, double tablePages, double rows, Confidence confidence) {}
