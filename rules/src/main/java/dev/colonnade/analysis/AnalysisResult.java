package dev.colonnade.analysis;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.report.Report;

/**
 * What one run of the analysis found.
 *
 * @param report everything that the reports say
 * @param analyzer answers further questions about the same schema
 */
public record AnalysisResult(Report report, AccessPathAnalyzer analyzer) {}
