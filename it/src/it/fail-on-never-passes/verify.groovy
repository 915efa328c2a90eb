String log = new File(basedir, 'build.log').text
assert log.contains(': error: [redundant-index]')
assert log.contains('BUILD SUCCESS')
