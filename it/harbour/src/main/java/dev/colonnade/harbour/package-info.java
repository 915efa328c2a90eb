/** A harbour's service: vessels, berths, bookings. */
package dev.colonnade.harbour;
