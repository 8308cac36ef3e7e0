import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { counted } from './table.ts'

/** `verify`: reads a card back against its record. Holds where every file is as recorded. */
export function registerVerify(program: Command, session: Session): void {
  program
    .command('verify')
    .description(
      'read a card image, a mounted card or a folder with an independent reader and compare every file with the record',
    )
    .argument('<image>', 'the image, or the folder that the card is mounted at')
    .option(
      '--against <content>',
      'the recorded content to compare with, by its fingerprint or its build, where the card should be another',
    )
    .addHelpText('after', examples('verify card.img', 'verify /media/card --against 7Q2M4K9XZA'))
    .action((image: string, options: { against?: string }) =>
      session.withCore(async (ask) => {
        const report = await ask('verify', {
          target: session.resolvePath(image),
          ...(options.against === undefined ? {} : { against: options.against }),
        })
        return { document: report, text: verifyText(report), holds: report.verified }
      }),
    )
}

/** `Verified: …`, or each file that is missing, changed or added. */
export function verifyText(report: ResponseOf<'verify'>): string {
  const amount = `${counted(report.filesChecked, 'file')}, ${inUnits(report.bytesChecked)}`
  if (report.verified) {
    const by = report.fingerprint === null ? '' : ` (${report.fingerprint})`
    return [`Verified: ${amount} read back, every hash as recorded${by}.`, ...noteLines(report)].join('\n')
  }
  const list = (word: string, paths: readonly string[]) =>
    paths.map((path) => printable(`  ${word}  ${path}`))
  return [
    printable(`Not verified: ${report.target} (${amount} read)`),
    ...report.faults.map((fault) => printable(`  fault    ${fault}`)),
    ...list('missing', report.missing),
    ...list('changed', report.changed),
    ...list('added  ', report.added),
    ...noteLines(report),
  ].join('\n')
}

function noteLines({ notes }: ResponseOf<'verify'>): string[] {
  return notes.map((note) => printable(`Note: ${note}`))
}
