/** Entities of a port's yard: what mappings do to statements that nobody writes. */
package dev.colonnade.query.jpql.yard;
