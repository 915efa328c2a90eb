/** What is known or assumed about the number of rows and values, and the formulas that use it. */
package dev.colonnade.statistics;
