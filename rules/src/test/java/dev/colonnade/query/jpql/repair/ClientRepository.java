package dev.colonnade.query.jpql.repair;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.jpa.repository.Query;

/** Clients. */
public interface ClientRepository extends AuditedRepository<Client> {
  Optional<Client> findByEmailIgnoreCaseAndIsActiveTrue(String email);

  List<Client> findByCreditAmountGreaterThanAndCredit_Currency(BigDecimal amount, String currency);

  List<Client> findByCredit(Money credit);

  List<Client> findByOrdersStateAndOrdersPriorityGreaterThanEqual(State state, int priority);

  List<Client> findDistinctByOrders_Tasks_TitleContainingIgnoreCase(String part);

  boolean existsByEmailAndIdNot(String email, Long id);

  @Query(
      "select c from Client c where not exists (select o from WorkOrder o where o.client = c and"
          + " o.state in (State.PLANNED, State.RUNNING))")
  Page<Client> idle(Pageable page);

  @Query("select c.name, count(o) from Client c left join c.orders o group by c.id, c.name")
  List<Object[]> orderCounts();
}
