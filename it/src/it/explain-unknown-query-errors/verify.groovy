String log = new File(basedir, 'build.log').text
assert log.contains('queries/berths.sql:9')
assert log.contains('queries/berths.sql:1') : 'names the closest'
assert log.contains('MojoExecutionException')
assert !new File(basedir, 'target/colonnade').exists() : 'nothing is written'
