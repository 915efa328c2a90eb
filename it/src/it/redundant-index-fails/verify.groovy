import groovy.json.JsonSlurper

def sarif = new JsonSlurper().parse(new File(basedir, 'target/colonnade/findings.sarif'), 'UTF-8')
def results = sarif.runs[0].results.findAll { it.level == 'error' }
assert results*.ruleId == ['redundant-index']
assert results[0].locations[0].physicalLocation.artifactLocation.uri == 'changelog.xml'
List<String> changelog = new File(basedir, 'changelog.xml').readLines('UTF-8')
int line = results[0].locations[0].physicalLocation.region.startLine
assert changelog[line - 1].contains('berth_pier_ix')

String log = new File(basedir, 'build.log').text
assert log.contains('changelog.xml:' + line + ': error: [redundant-index]')
assert log.contains('findings at or above error: 1')
assert log.contains('MojoFailureException')
