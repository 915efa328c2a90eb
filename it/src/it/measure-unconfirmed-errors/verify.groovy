String log = new File(basedir, 'build.log').text
assert log.contains('Never give it a production database')
assert log.contains('-Dcolonnade.measureConfirmed')
assert !log.contains('Connection')
assert !new File(basedir, 'target/colonnade').exists() : 'nothing was measured'
