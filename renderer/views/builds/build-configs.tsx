import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { momentInWords } from '../../elements/in-words.ts'
import { useAsk } from '../../hooks/use-ask.ts'

/** Every config that a build had, newest first, and the cards that carry each. */
export function BuildConfigs({ id }: { readonly id: string }) {
  const configs = useAsk('builds:configs', { id })
  return (
    <WhenLoaded loaded={configs} what="its configs">
      {({ versions }) =>
        versions.length === 0 ? null : (
          <section className="sheet sheet-stack" aria-labelledby="build-configs">
            <h2 id="build-configs">Configs it had</h2>
            {versions.map(({ number, recordedAt, fileName, text, contents, isCurrent }) => (
              <details key={number}>
                <summary>
                  Version {number}, {fileName}, {momentInWords(recordedAt)}
                  {isCurrent ? ' (its config now)' : ''}
                  {contents.length === 0 ? '' : `; on ${contents.join(', ')}`}
                </summary>
                <pre className="mono">{text}</pre>
              </details>
            ))}
          </section>
        )
      }
    </WhenLoaded>
  )
}
