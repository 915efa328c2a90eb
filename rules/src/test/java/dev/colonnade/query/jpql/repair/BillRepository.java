package dev.colonnade.query.jpql.repair;

import java.time.LocalDate;
import java.util.List;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.jpa.repository.EntityGraph;
import org.springframework.data.jpa.repository.Query;

/** Bills. */
public interface BillRepository extends AuditedRepository<Bill> {
  List<Bill> findBySettledFalseAndIssuedOnBefore(LocalDate day);

  List<Bill> findByClientEmail(String email);

  List<Bill> findByClient_Credit_Currency(String currency);

  List<OpenBill> findBySettledIsNull();

  @Query("select b from Bill b where b.settled = true and year(b.issuedOn) = :year")
  List<Bill> settledIn(int year);

  @Query(
      "select b.client.id as client, sum(b.due.amount) as amount from Bill b where b.settled ="
          + " false group by b.client.id having sum(b.due.amount) > 100 order by 2 desc")
  List<Object[]> debts();

  @Override
  @EntityGraph(attributePaths = "client")
  Page<Bill> findAll(Pageable page);

  /** What is open, with the client's name inside. */
  interface OpenBill {
    String getNumber();

    Money getDue();

    Debtor getClient();

    /** Who owes it. */
    interface Debtor {
      String getName();
    }
  }
}
