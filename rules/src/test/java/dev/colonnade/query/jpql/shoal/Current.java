package dev.colonnade.query.jpql.shoal;

/** Nothing says that a database keeps it. */
record Current(Long id, double knots) {}
