import groovy.json.JsonSlurper

def paths = new JsonSlurper().parse(new File(basedir, 'reports/access-paths.json'), 'UTF-8')
assert paths.queries[0].tables[0].index == 'berth_pier_length_ix'
assert !new File(basedir, 'target').exists()
