package dev.colonnade.query.jpql.dock;

/** A company with a licence. */
public class Agency extends Company {
  String licence;
  Company principal;
}
