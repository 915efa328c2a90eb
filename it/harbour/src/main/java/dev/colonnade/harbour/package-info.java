/** A harbour's service: vessels book berths, pilots bring them in, fees are charged and invoiced. */
package dev.colonnade.harbour;
