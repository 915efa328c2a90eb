String log = new File(basedir, 'build.log').text
assert log.contains('colonnade:') || log.contains('colonnade-maven-plugin:')
assert !new File(basedir, 'target/colonnade').exists() : 'skip writes nothing'
