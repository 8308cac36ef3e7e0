import type { ResponseOf } from '../../../app/contract/calls.ts'
import { counted } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'

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

function ShownNames({ names: { board, folder, names, renamedCount } }: { readonly names: Names }) {
  // Texts and pictures that the board wants none of are left off on purpose.
  const conflicts = names.filter(({ kind, conflict }) => kind === 'sound' && conflict !== null)
  return (
    <div className="sheet-stack">
      <p>
        In the folder <span className="mono break">{folder}</span> on a card of{' '}
        <span className="mono">{board}</span>, {counted(renamedCount, 'file')} of {names.length} get another
        name. Names change only on the card; nothing is renamed where it lies.
      </p>
      {conflicts.length > 0 && (
        <Note tone="bad" title={`${counted(conflicts.length, 'sound')} would get no name on the card`}>
          <ul>
            {conflicts.map(({ from, conflict }) => (
              <li key={from}>
                <span className="mono break">{from}</span>: {conflict}
              </li>
            ))}
          </ul>
        </Note>
      )}
      <div className="table-frame">
        <table className="table" aria-label="Names on the card">
          <thead>
            <tr>
              <th>Now</th>
              <th>On the card</th>
              <th>Remark</th>
            </tr>
          </thead>
          <tbody>
            {names.map((name) => (
              <tr key={name.from}>
                <td className="mono break">{name.from}</td>
                <td className="mono break">{name.to ?? '–'}</td>
                <td>{remarkOf(name)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  )
}

function remarkOf({ kind, conflict, isRenamed }: Names['names'][number]) {
  if (conflict === null) return isRenamed ? 'renamed' : 'as it is'
  return <span className={`mark wraps ${kind === 'sound' ? 'tone-bad' : 'tone-unknown'}`}>{conflict}</span>
}
