package dev.colonnade.query.jpql.port;

import java.util.List;

/** One kind of invoice. */
public interface CreditNoteRepository extends BaseRepository<CreditNote> {
  List<CreditNote> findByReasonIsNotNull();
}
