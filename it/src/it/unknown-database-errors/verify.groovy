String log = new File(basedir, 'build.log').text
assert log.contains(new File(basedir, 'pom.xml').canonicalPath + ": database: 'postgres' is not one of ")
assert log.contains('MojoExecutionException')
assert !new File(basedir, 'target/colonnade').exists() : 'nothing is written'
