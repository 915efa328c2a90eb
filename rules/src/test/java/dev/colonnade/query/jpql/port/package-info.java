/** Entities of a port, with every kind of mapping that queries go through. */
package dev.colonnade.query.jpql.port;
