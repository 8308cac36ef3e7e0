import { Link, useLocation } from 'wouter'

interface PlacesProps {
  readonly name: string
  readonly places: readonly { readonly to: string; readonly word: string }[]
}

/** Links between pages that belong together. */
export function Places({ name, places }: PlacesProps) {
  const [location] = useLocation()
  return (
    <nav aria-label={name}>
      <ul className="places">
        {places.map(({ to, word }) => (
          <li key={to}>
            <Link href={to} aria-current={location === to ? 'page' : undefined}>
              {word}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
