package dev.colonnade.analysis;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.sql.StatementParser;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * How many queries were found and analysed. A mapper's statement with optional parts is one query
 * with several texts under one id; it counts as analysed where one of them is, and what cannot be
 * analysed of it is one entry. What is no query, a definition for example, is told and not counted.
 *
 * @param found queries, by id
 * @param analysed those of which a text was analysed
 * @param notAnalysed the others, one entry each
 * @param partly what was not analysed of queries that were
 * @param shareWritten share, 0 to 1, of the queries that somebody wrote of which every text is
 *     known and one was analysed; 1 where nobody wrote one. What is inherited from a repository,
 *     follows from the mapping of entities or is done by the database itself does not count: there
 *     are so many of these, all understood, that they would hide that what was written is not
 */
record QueryCounts(
    int found,
    int analysed,
    List<UnanalysedQuery> notAnalysed,
    List<NotUnderstood> partly,
    double shareWritten) {

  static QueryCounts of(
      FoundQueries found, Collection<QueryAccess> analysed, Collection<UnanalysedQuery> failed) {
    List<UnanalysedQuery> all = new ArrayList<>(found.unanalysed());
    all.addAll(failed);
    Set<String> understood =
        analysed.stream().map(access -> access.query().id()).collect(Collectors.toSet());
    Map<String, Integer> texts = new HashMap<>();
    Stream.concat(
            found.queries().stream().map(QueryText::id),
            found.unanalysed().stream().map(UnanalysedQuery::id))
        .forEach(id -> texts.merge(id, 1, Integer::sum));
    Map<String, List<UnanalysedQuery>> byId =
        all.stream()
            .sorted()
            .collect(
                Collectors.groupingBy(
                    UnanalysedQuery::id, TreeMap::new, Collectors.toCollection(ArrayList::new)));
    List<UnanalysedQuery> not = new ArrayList<>();
    List<NotUnderstood> partly = new ArrayList<>();
    Set<String> written = new HashSet<>();
    Stream.concat(found.queries().stream(), analysed.stream().map(it -> it.query().text()))
        .filter(text -> text.source().isWritten())
        .forEach(text -> written.add(text.id()));
    all.stream().filter(UnanalysedQuery::written).forEach(query -> written.add(query.id()));
    Set<String> others = new HashSet<>();
    Set<String> open = new HashSet<>();
    byId.forEach(
        (id, entries) -> {
          UnanalysedQuery first = entries.get(0);
          if (entries.stream().allMatch(it -> it.reason().equals(StatementParser.NO_QUERY))) {
            others.add(id);
            partly.add(new NotUnderstood(first.location(), id + " is " + first.reason()));
          } else if (understood.contains(id)) {
            partly.add(partly(first, entries.size(), texts.getOrDefault(id, entries.size())));
            if (entries.stream().anyMatch(it -> it.reason().startsWith(MapperReader.OPEN_PART))) {
              open.add(id);
            }
          } else {
            not.add(first);
          }
        });
    Set<String> ids = new HashSet<>(texts.keySet());
    ids.addAll(byId.keySet());
    ids.removeAll(others);
    ids.addAll(understood);
    written.removeAll(others);
    long known = written.stream().filter(understood::contains).count();
    int withOpen = written.size() + open.size() + found.withoutText();
    double share = withOpen == 0 ? 1 : (double) known / withOpen;
    return new QueryCounts(ids.size(), understood.size(), not, partly, share);
  }

  private static NotUnderstood partly(UnanalysedQuery first, int failed, int texts) {
    return new NotUnderstood(
        first.location(),
        "query "
            + first.id()
            + ": "
            + failed
            + " of the "
            + texts
            + " texts that its optional parts make are not analysed, the first because "
            + first.reason());
  }
}
