package dev.colonnade.query.jpql.port;

import java.util.List;
import org.springframework.data.repository.Repository;

/** Companies that are not closed. */
public interface CompanyRepository extends Repository<Company, Long> {
  List<Company> findBySeatCity(String city);

  List<Company> findByBilling_Street(String street);

  List<Company> findByVesselsName(String name);

  List<Company> findByVesselsIsEmpty();

  long countByName(String name);
}
