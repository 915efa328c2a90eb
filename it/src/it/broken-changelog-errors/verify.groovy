String log = new File(basedir, 'build.log').text
assert log =~ /changelog\.xml:\d+/ : 'says the place'
assert log.contains('MojoExecutionException')
assert !new File(basedir, 'target/colonnade').exists() : 'nothing is written'
