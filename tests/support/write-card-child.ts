import { cardImages } from '../../main/adapters/files/card-images.ts'
import { oneSentence, toReport } from '../../app/errors/app-error.ts'
import { jobFromFiles, madeFiles } from './card-job.ts'

/** Writes a card into the folder named and tells what came of it: for limits that bind one process. */
const [folder = '', bytes = '0'] = process.argv.slice(2)
const control = { onProgress: () => {}, cancel: new AbortController().signal }
try {
  const imagePath = `${folder}/card.img`
  const written = await cardImages.write(
    jobFromFiles(folder, madeFiles(4, Number(bytes))),
    imagePath,
    control,
  )
  await written.publish(false)
  process.stdout.write('written\n')
} catch (error) {
  const report = toReport(error)
  process.stdout.write(`${report.code}: ${oneSentence(report)}\n`)
}
