import { Link } from 'wouter'
import { fontInWords } from '../../elements/in-words.ts'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'

/** Where the same samples lie again, whatever the names and headers of those files. */
export function SameSounds({ soundId }: { readonly soundId: string }) {
  const duplicates = useAsk('fonts:duplicates', {})
  return (
    <section className="sheet">
      <h2>The same sound elsewhere</h2>
      <WhenLoaded loaded={duplicates} what="duplicates">
        {({ groups }) => {
          const group = groups.find(({ sounds }) => sounds.some((sound) => sound.soundId === soundId))
          const others = group?.sounds.filter((sound) => sound.soundId !== soundId) ?? []
          return others.length === 0 ? (
            <p className="quiet">No other file of the library holds these samples.</p>
          ) : (
            <ul>
              {others.map((sound) => (
                <li key={sound.soundId}>
                  <Link href={`/fonts/${sound.editionId}/sounds/${sound.soundId}`}>{sound.path}</Link> in{' '}
                  {fontInWords(sound.font, sound.version)}
                </li>
              ))}
            </ul>
          )
        }}
      </WhenLoaded>
    </section>
  )
}
