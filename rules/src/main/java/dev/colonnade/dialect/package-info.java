/**
 * What differs from database to database, as data with sources. The analysis asks for a fact; it
 * never asks for a vendor's name.
 */
package dev.colonnade.dialect;
