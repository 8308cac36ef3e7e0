import { Link, useLocation } from 'wouter'
import markAddress from '../../look/mark.svg'
import { Icon, type IconName } from '../../elements/icon.tsx'

const PLACES: readonly { readonly to: string; readonly word: string; readonly icon: IconName }[] = [
  { to: '/fonts', word: 'Fonts', icon: 'fonts' },
  { to: '/boards', word: 'Boards', icon: 'boards' },
  { to: '/builds', word: 'Builds', icon: 'builds' },
  { to: '/cards', word: 'Cards', icon: 'cards' },
]

export function Rail() {
  const [location] = useLocation()
  return (
    <nav className="rail" aria-label="Places">
      <div className="rail-mark">
        <img src={markAddress} alt="Cardwright" width={44} height={44} />
      </div>
      <ul>
        {PLACES.map(({ to, word, icon }) => (
          <li key={to}>
            <Link
              href={to}
              className="rail-place"
              aria-current={
                location.startsWith(to) || (location === '/' && to === '/fonts') ? 'page' : undefined
              }
            >
              <Icon name={icon} />
              {word}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
