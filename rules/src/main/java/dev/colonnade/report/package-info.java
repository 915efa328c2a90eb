/** The written reports. They format what the analysis found; they compute nothing. */
package dev.colonnade.report;
