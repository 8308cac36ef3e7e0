import type { ResponseOf } from '../../../app/contract/calls.ts'
import { counted } from '../../elements/in-words.ts'
import { KnownMark } from './known-mark.tsx'

type Differences = ResponseOf<'boards:diff'>['differences']
type Side = Differences[number]['a']

interface BoardDifferencesProps {
  readonly titleA: string
  readonly titleB: string
  readonly differences: Differences
}

/** The limits in which two boards differ, side by side. */
export function BoardDifferences({ titleA, titleB, differences }: BoardDifferencesProps) {
  return (
    <>
      <p role="status">
        {differences.length === 0
          ? `${titleA} and ${titleB} accept the same.`
          : `They differ in ${counted(differences.length, 'limit')}.`}
      </p>
      {differences.length > 0 && (
        <div className="table-frame">
          <table className="table" aria-label="Differences">
            <thead>
              <tr>
                <th>Limit</th>
                <th>{titleA}</th>
                <th>{titleB}</th>
              </tr>
            </thead>
            <tbody>
              {differences.map((difference) => (
                <tr key={difference.limit}>
                  <td className="mono">{difference.limit}</td>
                  <SideCell side={difference.a} />
                  <SideCell side={difference.b} />
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </>
  )
}

function SideCell({ side: { words, known } }: { readonly side: Side }) {
  return (
    <td>
      {words} {known !== 'stated' && <KnownMark known={known} />}
    </td>
  )
}
