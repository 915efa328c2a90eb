package dev.colonnade.query.jpql.port;

import java.util.List;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.repository.ListCrudRepository;
import org.springframework.data.repository.ListPagingAndSortingRepository;

/** Berths, known by two columns. */
public interface BerthRepository
    extends ListCrudRepository<Berth, BerthId>, ListPagingAndSortingRepository<Berth, BerthId> {
  List<Berth> findByIdQuay(String quay);

  List<Berth> findById_QuayAndId_NumberGreaterThan(String quay, int number);

  List<Berth> findByIdQuayOrderByIdNumberDesc(String quay);

  Page<Berth> findByDepthGreaterThan(double depth, Pageable page);

  boolean existsByIdQuay(String quay);

  long countByIdQuay(String quay);

  void deleteByIdQuay(String quay);
}
