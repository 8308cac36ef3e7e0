import { Link } from 'wouter'
import { counted } from '../../elements/in-words.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { RecordsPlaces } from './records-places.tsx'

export function BuildsPage() {
  const builds = useAsk('builds:list', {})
  return (
    <div className="page-stack">
      <RecordsPlaces />
      <PageHead title="Builds" about="One hilt each, with its board, its fonts in order, its config">
        <PageLink to="/builds/new" isMain>
          Add a build
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={builds} what="builds">
        {(value) =>
          value.builds.length === 0 ? (
            <p className="quiet">No builds yet.</p>
          ) : (
            <div className="table-frame">
              <table className="table">
                <thead>
                  <tr>
                    <th>Code</th>
                    <th>Client</th>
                    <th>Board</th>
                    <th>Speaker</th>
                    <th>Fonts</th>
                    <th>Config</th>
                  </tr>
                </thead>
                <tbody>
                  {value.builds.map((build) => (
                    <tr key={build.id}>
                      <td className="name">
                        <Link href={`/builds/${build.id}`}>{build.code}</Link>
                      </td>
                      <td>{build.clientLabel || '–'}</td>
                      <td className="mono">{build.boardId}</td>
                      <td>
                        {build.speaker || '–'}
                        {build.speakerLowLimitHz !== null && (
                          <span className="quiet"> from {build.speakerLowLimitHz} Hz</span>
                        )}
                      </td>
                      <td>{counted(build.fontEditionIds.length, 'font')}</td>
                      <td className="mono">{build.config?.fileName ?? '–'}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          )
        }
      </WhenLoaded>
    </div>
  )
}
