import groovy.json.JsonSlurper

def sarif = new JsonSlurper().parse(new File(basedir, 'target/colonnade/findings.sarif'), 'UTF-8')
def results = sarif.runs[0].results.findAll { it.ruleId == 'missing-index' }
assert results.size() == 1
assert results[0].level == 'warning'
assert results[0].locations[0].physicalLocation.artifactLocation.uri == 'queries/berths.sql'
assert results[0].locations[0].physicalLocation.region.startLine == 1

String log = new File(basedir, 'build.log').text
assert log.contains('queries/berths.sql:1: warning: [missing-index]')
assert log.contains('BUILD SUCCESS')
