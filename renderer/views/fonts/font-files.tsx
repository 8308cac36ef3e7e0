import type { Edition } from '../../../app/model/library.ts'
import { inUnits } from '../../../app/model/in-units.ts'

/** Where an edition lies, what belongs with its sounds, and what is left out. */
export function FontFiles({ edition }: { readonly edition: Edition }) {
  const { places, companions, litter } = edition
  return (
    <div className="sheet sheet-stack">
      <h2>Places</h2>
      <ul>
        {places.map((place) => (
          <li key={`${place.rootId} ${place.path} ${place.innerPath}`}>
            <span className="mono break">
              {place.path}
              {place.innerPath === null ? '' : `, inside: ${place.innerPath || 'top'}`}
            </span>
            {place.state === 'gone' && <strong> gone</strong>}
          </li>
        ))}
      </ul>
      <h2>Companions</h2>
      {companions.length === 0 ? (
        <p className="quiet">No texts or pictures lie with the sounds.</p>
      ) : (
        <ul>
          {companions.map((companion) => (
            <li key={companion.path}>
              <span className="mono break">{companion.path}</span>{' '}
              <span className="quiet">
                {companion.kind}, {inUnits(companion.sizeBytes)}
              </span>
            </li>
          ))}
        </ul>
      )}
      <h2>Litter</h2>
      {litter.length === 0 ? (
        <p className="quiet">None.</p>
      ) : (
        <>
          <p>Left behind by operating systems; never on a card.</p>
          <ul>
            {litter.map((path) => (
              <li key={path} className="mono break">
                {path}
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  )
}
