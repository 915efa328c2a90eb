package dev.colonnade.query.source;

import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** The properties of Camunda 7.21.0's mapper files. */
public final class CamundaProperties {
  private CamundaProperties() {}

  /** What the engine gives MyBatis for PostgreSQL: DbSqlSessionFactory of the same version. */
  public static Map<String, String> forPostgresql() {
    Map<String, String> values = new HashMap<>();
    for (String nothing :
        List.of(
            "prefix",
            "limitBefore",
            "limitBeforeWithoutOffset",
            "optimizeLimitBeforeWithoutOffset",
            "limitBetween",
            "limitBetweenFilter",
            "limitBetweenAcquisition",
            "limitBeforeNativeQuery",
            "countDistinctBeforeEnd",
            "bitand1",
            "bitand3",
            "dbSpecificDummyTable",
            "collationForCaseSensitivity")) {
      values.put(nothing, "");
    }
    values.put("limitAfter", "LIMIT #{maxResults} OFFSET #{firstResult}");
    values.put("innerLimitAfter", "LIMIT #{maxResults} OFFSET #{firstResult}");
    values.put("limitAfterWithoutOffset", "LIMIT #{maxResults}");
    values.put("optimizeLimitAfterWithoutOffset", "LIMIT #{maxResults}");
    values.put("limitBeforeInUpdate", "WHERE ID_ IN (SELECT ID_ FROM ");
    values.put("limitAfterInUpdate", ")");
    values.put("orderBy", "order by ${internalOrderBy}");
    values.put("distinct", "distinct");
    values.put("numericCast", "");
    values.put("countDistinctBeforeStart", "SELECT COUNT(*) FROM (SELECT DISTINCT");
    values.put("countDistinctAfterEnd", ") countDistinct");
    values.put("escapeChar", "'\\'");
    values.put("bitand2", " & ");
    values.put("datepart1", "extract(");
    values.put("datepart2", " from ");
    values.put("datepart3", ")");
    values.put("trueConstant", "true");
    values.put("falseConstant", "false");
    values.put("dbSpecificIfNullFunction", "COALESCE");
    values.put("dayComparator", "EXTRACT (DAY FROM #{currentTimestamp} - ${date}) >= ${days}");
    for (String number : List.of("", "1")) {
      values.put("authJoin" + number + "Start", "IN (");
      values.put("authJoin" + number + "Separator", ",");
      values.put("authJoin" + number + "End", ")");
    }
    values.put("constant_for_update", "for update");
    values.put("constant.event", "'event'");
    values.put("constant.op_message", "NEW_VALUE_ || '_|_' || PROPERTY_");
    values.put("constant.datepart.quarter", "QUARTER");
    values.put("constant.datepart.month", "MONTH");
    values.put("constant.datepart.minute", "MINUTE");
    values.put("constant.null.startTime", "null START_TIME_");
    values.put("constant.varchar.cast", "'${key}'");
    values.put("constant.integer.cast", "NULL");
    values.put("constant.null.reporter", "NULL AS REPORTER_");
    return values;
  }
}
