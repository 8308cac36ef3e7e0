import { useRef } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { counted } from '../../elements/in-words.ts'
import { GapRow } from '../../elements/gap-row.tsx'
import { Note } from '../../elements/note.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { useLongRows } from '../../hooks/use-long-rows.ts'

type Names = ResponseOf<'translate'>

/** How the files of a font would be called on a card of the board on the bench. */
export function FontCardNames({ editionId }: { readonly editionId: string }) {
  const { boardId } = useChosenBoard()
  const names = useAsk('translate', boardId === undefined ? null : { editionId, boardId })
  return (
    <WhenLoaded loaded={names} what="names">
      {(value) => <ShownNames names={value} />}
    </WhenLoaded>
  )
}

/** The frame scrolls by itself where there are more names than this. */
const MOST_IN_FULL = 60

function ShownNames({ names: { board, folder, names, renamedCount } }: { readonly names: Names }) {
  const frame = useRef<HTMLDivElement>(null)
  const isLong = names.length > MOST_IN_FULL
  const rows = useLongRows(frame, { count: names.length, isLong, rowPixels: 40 })
  const conflicts = names.filter(({ conflict, isLeftOff }) => conflict !== null && !isLeftOff)
  return (
    <div className="sheet-stack">
      <p>
        In the folder <span className="mono break">{folder}</span> on a card of{' '}
        <span className="mono">{board}</span>, {counted(renamedCount, 'file')} of {names.length} get another
        name. Names change only on the card; nothing is renamed where it lies.
      </p>
      {conflicts.length > 0 && (
        <Note tone="bad" title={`${counted(conflicts.length, 'file')} would get no name on the card`}>
          <ul>
            {conflicts.map(({ from, conflict }) => (
              <li key={from}>
                <span className="mono break">{from}</span>: {conflict}
              </li>
            ))}
          </ul>
        </Note>
      )}
      <div
        className={isLong ? 'table-frame long-frame' : 'table-frame'}
        ref={frame}
        // Nothing in it takes the focus, and it must scroll by keys.
        {...(isLong ? { tabIndex: 0, role: 'region', 'aria-label': 'All names' } : {})}
      >
        <table className="table" aria-label="Names on the card" aria-rowcount={names.length + 1}>
          <thead>
            <tr aria-rowindex={1}>
              <th>Now</th>
              <th>On the card</th>
              <th>Remark</th>
            </tr>
          </thead>
          <GapRow pixels={rows.before} columns={3} />
          <tbody>
            {rows.shown.map(({ index }) => {
              const name = names[index]
              if (name === undefined) return null
              return (
                <tr key={name.from} data-index={index} aria-rowindex={index + 2} ref={rows.measure}>
                  <td className="mono break">{name.from}</td>
                  <td className="mono break">{name.to ?? '–'}</td>
                  <td>{remarkOf(name)}</td>
                </tr>
              )
            })}
          </tbody>
          <GapRow pixels={rows.after} columns={3} />
        </table>
      </div>
    </div>
  )
}

function remarkOf({ conflict, isRenamed, isLeftOff }: Names['names'][number]) {
  if (conflict === null) return isRenamed ? 'renamed' : 'as it is'
  return <span className={`mark wraps ${isLeftOff ? 'tone-unknown' : 'tone-bad'}`}>{conflict}</span>
}
