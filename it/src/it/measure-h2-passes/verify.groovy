String log = new File(basedir, 'build.log').text
assert log.contains('H2 2.5.252') && log.contains('queries planned')
File page = new File(basedir, 'target/colonnade/measure.md')
assert page.text.startsWith('# Planner and prediction')
assert !page.text.contains('the planner refuses')
