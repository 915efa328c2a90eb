/** Reads the statistics file of a service. */
package dev.colonnade.statistics.yaml;
