/** A berth-booking service on Spring Data JDBC and R2DBC, for comparisons with them. */
package dev.colonnade.query.jpql.jetty;
