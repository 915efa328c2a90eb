/** Translates queries over entities (JPQL and HQL) into SQL over the tables that hold them. */
package dev.colonnade.query.jpql;
