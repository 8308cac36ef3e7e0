import type { Command } from 'commander'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { verifyText } from './verify-command.ts'

export function registerRemake(program: Command, session: Session): void {
  program
    .command('remake')
    .description('make a recorded content again, byte for byte, from what the workshop kept')
    .argument('<content>', 'its fingerprint, or a build: then the newest made for it')
    .requiredOption('--image <file>', 'the image to write')
    .option('--replace', 'the image may replace a file of that name')
    .addHelpText('after', examples('remake 7Q2M4K9XZA --image again.img'))
    .action((content: string, options: { image: string; replace?: boolean }) =>
      session.withCore(async (ask) => {
        const report = await ask('contents:remake', {
          content,
          imagePath: session.resolvePath(options.image),
          replace: options.replace === true,
        })
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
