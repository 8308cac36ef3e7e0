import { jobFromFiles, madeFiles } from './card-job.ts'
import { beforeStep, fillFolder } from './fill-folder.ts'

/** Fills a folder and ends itself, without any cleaning up, at one of its steps. */
const [folder = '', into = '', step = '0'] = process.argv.slice(2)
fillFolder(
  into,
  jobFromFiles(folder, madeFiles(6, 40_000)),
  { mayReplace: true },
  beforeStep(Number(step), () => process.kill(process.pid, 'SIGKILL')),
)
process.stdout.write('filled\n')
