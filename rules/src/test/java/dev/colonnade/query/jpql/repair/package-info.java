/** A workshop that repairs vessels: mappings and repositories as a big service has them. */
package dev.colonnade.query.jpql.repair;
