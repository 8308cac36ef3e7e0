import { outliveReaders } from './outlive-readers.ts'
import { runCommandLine } from './run-command-line.ts'

outliveReaders()
process.exitCode = await runCommandLine(process.argv.slice(2))
