import groovy.json.JsonSlurper

def paths = new JsonSlurper().parse(new File(basedir, 'service/target/colonnade/access-paths.json'), 'UTF-8')
assert paths.tables*.name == ['berth']
// InnoDB keeps the primary key in every index: the id is there without being named.
assert paths.queries[0].tables[0].path == 'index-only-range-scan'
