import type { Command } from 'commander'
import { demoSummary } from '../demo-summary.ts'
import { examples } from './examples.ts'
import type { Session } from './session.ts'

/** `demo`: the demo workshop and its first card. Holds where the card reads back as recorded. */
export function registerDemo(program: Command, session: Session): void {
  program
    .command('demo')
    .description('make the demo workshop (invented fonts with planted faults) and its first card')
    .addHelpText('after', examples('demo --workshop demo-workshop'))
    .action(() =>
      session.withCore(async (ask) => {
        const report = await ask('demo:prepare', {})
        return { document: report, text: demoSummary(report), holds: report.make.verified }
      }),
    )
}
