import groovy.json.JsonSlurper

File output = new File(basedir, 'target/colonnade')
assert output.list().toList().containsAll(['access-paths.json', 'findings.md', 'findings.sarif'])

def paths = new JsonSlurper().parse(new File(output, 'access-paths.json'), 'UTF-8')
assert paths.formatVersion == 1
assert paths.database == 'postgresql'
assert paths.coverage.changes.total == 2
assert paths.coverage.changes.applied == 2
assert paths.coverage.queries.analysed == 1
assert paths.queries*.id == ['queries/berths.sql:1']

def read = paths.queries[0].tables[0]
assert read.table == 'berth'
assert read.path == 'range-scan'
assert read.index == 'berth_pier_length_ix'
assert read.matchingColumns == ['pier_id', 'length']
assert read.missingColumns == ['id']
assert read.candidates*.index.containsAll(['berth_pier_length_ix', 'berth_pk'])

def sarif = new JsonSlurper().parse(new File(output, 'findings.sarif'), 'UTF-8')
assert sarif.version == '2.1.0'
assert !sarif.runs[0].results.any { it.level in ['error', 'warning'] }

String log = new File(basedir, 'build.log').text
assert log.contains('Files: ' + output.canonicalPath)
