import type { CardRule } from './rule.ts'

export const configMissing: CardRule = {
  id: 'config-missing',
  judge: ({ board, config }) =>
    board.config?.required !== true || config !== null
      ? []
      : [
          {
            path: board.config.file,
            message: `The config file ${board.config.file} is missing; the board needs it.`,
            why: 'The board does not start, or starts with settings of its own.',
            mend: 'Record the config file with the build.',
            fixable: false,
            measured: null,
            limit: board.config.file,
          },
        ],
}
