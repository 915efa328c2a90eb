String log = new File(basedir, 'build.log').text
assert log.contains('queries/berths.sql:1: warning: [missing-index]')
assert log.contains('findings at or above warning: ')
assert log.contains('MojoFailureException')
assert new File(basedir, 'target/colonnade/findings.sarif').file : 'the files are there when the build fails'
