String log = new File(basedir, 'build.log').text
assert log.contains('changelog.xml')
assert log.contains('src/main/resources') : 'says where it looked'
assert log.contains('MojoExecutionException')
assert !new File(basedir, 'target/colonnade').exists() : 'nothing is written'
