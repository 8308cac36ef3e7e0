import type { Command } from 'commander'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import {
  targetOf,
  tellCautions,
  withTargetChoice,
  writtenLines,
  type TargetChoice,
} from './target-options.ts'
import { verifyText } from './verify-command.ts'

/** `remake`: a recorded content again, byte for byte. Holds where it reads back as recorded. */
export function registerRemake(program: Command, session: Session): void {
  withTargetChoice(
    program
      .command('remake')
      .description('make a recorded content again, byte for byte, from what the workshop kept')
      .argument('<content>', 'its fingerprint, or a build: then the newest made for it'),
  )
    .addHelpText('after', examples('remake 7Q2M4K9XZA --image again.img', 'remake EX-101 --into /media/card'))
    .action((content: string, options: TargetChoice) =>
      session.withCore(async (ask) => {
        const target = targetOf(options, session)
        const replace = options.replace === true
        if ('into' in target) {
          await tellCautions({ content, into: target.into }, ask, session)
          const report = await ask('contents:remake-into', { content, into: target.into, replace })
          const text = [
            ...writtenLines(report.written),
            `Fingerprint  ${report.fingerprint}`,
            verifyText(report.verify),
            '',
            ...report.written.next.map(printable),
          ].join('\n')
          return { document: report, text, holds: report.verified }
        }
        const report = await ask('contents:remake', { content, imagePath: target.imagePath, replace })
        const text = [
          printable(`Image        ${report.imagePath}`),
          `Fingerprint  ${report.fingerprint}`,
          `Image hash   ${report.imageHash}, as first made`,
          verifyText(report.verify),
        ].join('\n')
        return { document: report, text, holds: report.verified }
      }),
    )
}
