import groovy.json.JsonSlurper

def sarif = new JsonSlurper().parse(new File(basedir, 'target/colonnade/findings.sarif'), 'UTF-8')
assert !sarif.runs[0].results.any { it.ruleId == 'redundant-index' }
assert !new File(basedir, 'build.log').text.contains('[redundant-index]')
