package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion.DropIndex;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleSettings;
import dev.colonnade.rules.RuleRegistry;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.liquibase.ChangelogInput;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import dev.colonnade.schema.liquibase.ChangelogReader;
import dev.colonnade.statistics.Statistics;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/**
 * The surplus indexes of Keycloak 26.0.0 ({@code org.keycloak:keycloak-model-jpa}, changelog under
 * {@code META-INF}). The list was made by hand from the index list that PostgreSQL 18 shows after
 * Liquibase's own update: each is a plain index whose columns are the leading columns of a key or
 * of a longer index of the same table. No others may be reported.
 */
class KeycloakRedundancyTest {
  private static final Set<String> SURPLUS =
      new TreeSet<>(
          List.of(
              "IDX_REALM_CLSCOPE", // UK_CLI_SCOPE(REALM_ID, NAME)
              "IDX_CLSCOPE_ATTRS", // PK_CL_TMPL_ATTR(SCOPE_ID, NAME)
              "IDX_CLSCOPE_CL", // C_CLI_SCOPE_BIND(CLIENT_ID, SCOPE_ID)
              "IDX_CLSCOPE_ROLE", // PK_TEMPLATE_SCOPE(SCOPE_ID, ROLE_ID)
              "IDX_COMPOSITE", // CONSTRAINT_COMPOSITE_ROLE(COMPOSITE, CHILD_ROLE)
              "IDX_DEFCLS_REALM", // R_DEF_CLI_SCOPE_BIND(REALM_ID, SCOPE_ID)
              "IDX_IDENT_PROV_REALM", // IDX_IDP_REALM_ORG(REALM_ID, ORGANIZATION_ID)
              "IDX_REALM_DEF_GRP_REALM", // CONSTR_REALM_DEFAULT_GROUPS(REALM_ID, GROUP_ID)
              "IDX_REALM_EVT_TYPES_REALM", // CONSTR_REALM_ENABL_EVENT_TYPES(REALM_ID, VALUE)
              "IDX_REALM_EVT_LIST_REALM", // CONSTR_REALM_EVENTS_LISTENERS(REALM_ID, VALUE)
              "IDX_REALM_SUPP_LOCAL_REALM", // CONSTR_REALM_SUPPORTED_LOCALES(REALM_ID, VALUE)
              "IDX_REDIR_URI_CLIENT", // CONSTRAINT_REDIRECT_URIS(CLIENT_ID, VALUE)
              "IDX_PERM_TICKET_OWNER", // UK_FRSR6T700S9V50BU18WS5PMT(OWNER, REQUESTER, ...)
              "IDX_USCONSENT_CLSCOPE", // CONSTRAINT_GRNTCSNT_CLSC_PM(USER_CONSENT_ID, SCOPE_ID)
              "IDX_WEB_ORIG_CLIENT")); // CONSTRAINT_WEB_ORIGINS(CLIENT_ID, VALUE)

  @Test
  void reports_every_surplus_index_and_no_other() {
    Schema schema =
        ChangelogReader.read(
                new ChangelogInput(
                    Dialects.postgresql(),
                    Path.of("."),
                    List.of(Path.of("target/services/keycloak-model-jpa.jar")),
                    List.of(RootChangelog.of("META-INF/jpa-changelog-master.xml")),
                    Map.of()))
            .schema();
    AccessPathAnalyzer analyzer =
        new AccessPathAnalyzer(schema, Dialects.postgresql(), Statistics.NONE);
    List<Finding> findings =
        RuleRegistry.check(new RuleContext(analyzer, List.of(), 1, RuleSettings.DEFAULT));
    List<Finding> surplus =
        findings.stream()
            .filter(f -> Set.of("redundant-index", "duplicate-index").contains(f.ruleId()))
            .toList();
    assertThat(surplus).allMatch(finding -> finding.severity() == Severity.ERROR);
    Set<String> dropped =
        surplus.stream()
            .flatMap(finding -> finding.suggestions().stream())
            .map(suggestion -> ((DropIndex) suggestion).index().name().text())
            .collect(Collectors.toCollection(TreeSet::new));
    assertThat(dropped).isEqualTo(SURPLUS);
  }
}
