import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { counted } from './table.ts'

export function registerVerify(program: Command, session: Session): void {
  program
    .command('verify')
    .description('read a card image with an independent reader and compare every file with the record')
    .argument('<image>', 'the image')
    .option(
      '--against <fingerprint>',
      'the recorded content to compare with, where the image should be another',
    )
    .addHelpText('after', examples('verify card.img'))
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
    return `Verified: ${amount} read back, every hash as recorded${report.fingerprint === null ? '' : ` (${report.fingerprint})`}.`
  }
  const list = (word: string, paths: readonly string[]) =>
    paths.map((path) => printable(`  ${word}  ${path}`))
  return [
    printable(`Not verified: ${report.target} (${amount} read)`),
    ...report.faults.map((fault) => printable(`  fault    ${fault}`)),
    ...list('missing', report.missing),
    ...list('changed', report.changed),
    ...list('added  ', report.added),
  ].join('\n')
}
