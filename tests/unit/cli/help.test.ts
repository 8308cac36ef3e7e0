import type { Command } from 'commander'
import { expect, test } from 'vitest'
import { createProgram } from '../../../main/cli/program.ts'
import { createSession } from '../../../main/cli/session.ts'

const sessionOf = (program: Command) => createSession(program, { exitCode: 0 }, new AbortController().signal)
const { program, register } = createProgram()
await register(sessionOf(program))

function withAllBelow(command: Command): readonly Command[] {
  return [command, ...command.commands.flatMap(withAllBelow)]
}

function fullName(command: Command): string {
  return command.parent === null ? command.name() : `${fullName(command.parent)} ${command.name()}`
}

function helpOf(command: Command): string {
  let text = ''
  command.configureOutput({ writeOut: (part) => (text += part) })
  command.outputHelp()
  return text
}

const commands = withAllBelow(program)

test.each(commands.map((command) => ({ name: fullName(command), command })))(
  'the help of "$name" shows it in use and the options that all share',
  ({ name, command }) => {
    const help = helpOf(command)
    expect(help).toMatch(/\nExamples?:\n {2}cardwright /)
    const [, examples = ''] = help.split(/\nExamples?:\n/)
    expect(help).not.toContain('display help for command')
    if (command.parent !== null) expect(examples).toContain(name)
    for (const option of ['--workshop', '--json', '--help']) expect(help).toContain(option)
    expect(command.description()).not.toBe('')
  },
)

test.each(commands.map((command) => ({ name: fullName(command), command })))(
  'the help of "$name" fits 80 columns, but for what is to be copied whole',
  ({ command }) => {
    const wide = helpOf(command)
      .split('\n')
      .filter((line) => line.length > 80 && !/^(Usage: | {2}cardwright )/.test(line))
    expect(wide).toEqual([])
  },
)

test.each(
  commands.flatMap((command) => {
    const help = helpOf(command)
    const [, examples = ''] = help.split(/\nExamples?:\n/)
    return [...examples.matchAll(/^ {2}cardwright (.+)$/gm)].map((match) => match[1] ?? '')
  }),
)('the example "cardwright %s" names a command and options that there are', (line) => {
  const words = [...line.matchAll(/"([^"]*)"|(\S+)/g)].map((match) => match[1] ?? match[2] ?? '')
  let command = program
  for (const word of words) {
    const next = command.commands.find((each) => each.name() === word)
    if (next === undefined) break
    command = next
  }
  expect(command).not.toBe(program)
  const known = [...program.options, ...command.options].flatMap(({ long, short }) => [long, short])
  for (const word of words) {
    if (/^-/.test(word) && word !== '--help') expect(known).toContain(word)
  }
})

test.each(program.commands.map((command) => command.name()))(
  'a command line that begins with "%s" loads that command alone, the same as among all',
  async (name) => {
    const one = createProgram()
    await one.register(sessionOf(one.program), ['--json', '--workshop', 'w', name, '--help'])
    expect(one.program.commands.map((command) => command.name())).toEqual([name])
    const [alone] = one.program.commands
    const among = program.commands.find((command) => command.name() === name)
    expect(alone === undefined ? '' : helpOf(alone)).toBe(among === undefined ? 'none' : helpOf(among))
  },
)

test.each([[[]], [['scans']], [['--help']], [['--workshop', 'scan']]])(
  'a command line of %j, which names no command, loads all of them',
  async (argv) => {
    const all = createProgram()
    await all.register(sessionOf(all.program), argv)
    expect(all.program.commands.length).toBe(program.commands.length)
  },
)
