import { InvalidArgumentError, type Command } from 'commander'
import { examples } from './examples.ts'
import { readLowLimit, type LowLimit } from './low-limit-option.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { counted } from './table.ts'

/** `status`: where the workshop lies, what it holds, and what it keeps of itself. */
export function registerStatus(program: Command, session: Session): void {
  const status = program
    .command('status')
    .description('where the workshop lies and what it holds')
    .addHelpText('after', examples('status'))
    .action(() =>
      session.withCore(async (ask) => {
        const status = await ask('workshop:status', {})
        return reply(
          status,
          [
            `Workshop  ${status.path}${status.isDemo ? ' (demo)' : ''}`,
            `Holds     ${counted(status.fontCount, 'font')}, ${counted(status.soundCount, 'sound')}`,
            `Board     ${status.defaultBoardId} unless told`,
            `Images    ${status.imagesFolder}`,
            `Speaker   ${status.speakerLowLimitHz === null ? 'not told' : `from ${status.speakerLowLimitHz} Hz up`}; where a build tells its own, that counts`,
            `Who       ${status.who}`,
            `Version   ${status.version}`,
          ]
            .map(printable)
            .join('\n'),
        )
      }),
    )
  status
    .command('set')
    .description('change what the workshop keeps of itself')
    .option('--who <name>', 'name that stands in the journal beside every edit; empty for the account')
    .option(
      '--speaker-low-limit <hz>',
      'lowest frequency that the usual speaker gives, in Hz; empty where unknown',
      readLowLimit,
    )
    .addHelpText(
      'after',
      examples('status set --who "Kim at the bench"', 'status set --speaker-low-limit 300'),
    )
    .action((options: { who?: string; speakerLowLimit?: LowLimit }) => {
      const { who, speakerLowLimit } = options
      if (who === undefined && speakerLowLimit === undefined) {
        throw new InvalidArgumentError('Say what is to change: --who, --speaker-low-limit, or both.')
      }
      return session.withCore(async (ask) => {
        const changed = await ask('workshop:change', {
          ...(who === undefined ? {} : { who }),
          ...(speakerLowLimit === undefined ? {} : { speakerLowLimitHz: speakerLowLimit.hz }),
        })
        const told = [
          ...(who === undefined ? [] : [`From the next command on, ${changed.who} stands in the journal.`]),
          ...(speakerLowLimit === undefined ? [] : [heardSentence(changed.speakerLowLimitHz)]),
        ]
        return reply(changed, told.map(printable).join('\n'))
      })
    })
}

function heardSentence(speakerLowLimitHz: number | null): string {
  return speakerLowLimitHz === null
    ? 'Loops are judged without a speaker, but where a build tells its own.'
    : `Loops are judged as heard through a speaker from ${speakerLowLimitHz} Hz, but where a build tells its own.`
}
