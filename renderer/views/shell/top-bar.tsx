import { Button, Select, useComputedColorScheme, useMantineColorScheme } from '@mantine/core'
import { Link } from 'wouter'
import { Icon } from '../../elements/icon.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'

/** The workshop, the board that verdicts are for, and day or night. */
export function TopBar() {
  const status = valueOr(useAsk('workshop:status', {}), undefined)
  const boards = valueOr(useAsk('boards:list', {}), undefined)?.boards ?? []
  const { boardId, choose } = useChosenBoard()
  const { setColorScheme } = useMantineColorScheme()
  const isDark = useComputedColorScheme('light') === 'dark'
  return (
    <header className="top">
      <div className="top-workshop">
        <Link href="/workshop">{status?.isDemo === true ? 'Demo workshop' : 'Workshop'}</Link>
        <span className="quiet" title={status?.path}>
          {status?.path ?? ' '}
        </span>
      </div>
      <div className="row">
        <label htmlFor="chosen-board">On the bench</label>
        <Select
          id="chosen-board"
          data={boards.map((board) => ({ value: board.id, label: board.title }))}
          value={boardId ?? null}
          onChange={(next) => next !== null && choose(next)}
          allowDeselect={false}
          w="13rem"
        />
      </div>
      <Button
        variant="default"
        leftSection={<Icon name={isDark ? 'light' : 'dark'} />}
        onClick={() => setColorScheme(isDark ? 'light' : 'dark')}
      >
        {isDark ? 'Light' : 'Dark'}
      </Button>
    </header>
  )
}
