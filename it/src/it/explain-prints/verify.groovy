String log = new File(basedir, 'build.log').text
assert log.contains('berth_pier_length_ix')
assert log.contains('berth_pier_ix')
assert log.contains('range-scan')
assert !new File(basedir, 'target/colonnade').exists() : 'explain writes nothing'
