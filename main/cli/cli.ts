import { outliveFileLimit } from '../outlive-file-limit.ts'
import { outliveReaders } from './outlive-readers.ts'
import { runCommandLine } from './run-command-line.ts'

outliveReaders()
outliveFileLimit()
process.exitCode = await runCommandLine(process.argv.slice(2))
