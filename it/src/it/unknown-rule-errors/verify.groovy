String log = new File(basedir, 'build.log').text
assert log.contains(new File(basedir, 'pom.xml').canonicalPath + ": severities: there is no rule 'redundant-indexes'")
assert log.contains('MojoExecutionException')
assert !new File(basedir, 'target/colonnade').exists() : 'nothing is written'
