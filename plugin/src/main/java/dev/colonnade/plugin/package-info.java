/** The goals of the Maven plugin: they gather parameters, call the analysis, print, decide. */
package dev.colonnade.plugin;
