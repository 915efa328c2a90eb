/** The facade: from the files of a service to access paths, findings and reports. */
package dev.colonnade.analysis;
