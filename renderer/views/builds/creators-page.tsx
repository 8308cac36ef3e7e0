import { Link } from 'wouter'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { RecordsPlaces } from './records-places.tsx'

export function CreatorsPage() {
  const creators = useAsk('creators:list', {})
  return (
    <div className="page-stack">
      <RecordsPlaces />
      <PageHead title="Creators" about="Who made the fonts">
        <PageLink to="/builds/creators/new" isMain>
          Add a creator
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={creators} what="creators">
        {(value) =>
          value.creators.length === 0 ? (
            <p className="quiet">No creators yet.</p>
          ) : (
            <div className="table-frame">
              <table className="table">
                <thead>
                  <tr>
                    <th>Name</th>
                    <th>Contact</th>
                    <th>Note</th>
                  </tr>
                </thead>
                <tbody>
                  {value.creators.map((creator) => (
                    <tr key={creator.id}>
                      <td className="name">
                        <Link href={`/builds/creators/${creator.id}`}>{creator.name}</Link>
                      </td>
                      <td className="break">{creator.contact || '–'}</td>
                      <td className="break">{creator.note || '–'}</td>
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
