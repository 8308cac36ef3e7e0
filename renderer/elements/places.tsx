import { Link, useLocation } from 'wouter'

interface PlacesProps {
  readonly name: string
  readonly places: readonly { readonly to: string; readonly word: string }[]
}

/** Links between pages that belong together. */
export function Places({ name, places }: PlacesProps) {
  const [location] = useLocation()
  // The longest address that leads here: /builds/licences/… is of the licences, not of the builds.
  const current = places
    .filter(({ to }) => location === to || location.startsWith(`${to}/`))
    .sort((a, b) => b.to.length - a.to.length)[0]?.to
  return (
    <nav aria-label={name}>
      <ul className="places">
        {places.map(({ to, word }) => (
          <li key={to}>
            <Link href={to} aria-current={to === current ? 'page' : undefined}>
              {word}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
