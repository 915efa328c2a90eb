assert !new File(basedir, 'build.log').text.contains('[redundant-index]')
assert !new File(basedir, 'target/colonnade/findings.sarif').text.contains('"ruleId" : "redundant-index"')
