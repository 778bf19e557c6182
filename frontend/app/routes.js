// Every screen: its address, who may open it, and its module, which is fetched
// when the screen is first opened. `nav` puts it into the main navigation,
// `tab` into the navigation of a design, in this order.

/** @type {import('../shapes.js').Route[]} */
export const ROUTES = [
  { path: '/', who: 'staff', nav: 'Studio', load: () => import('./studio.js') },
  { path: '/sign-in', who: 'anyone', load: () => import('./sign-in.js') },
  { path: '/docs', who: 'anyone', load: () => import('./docs.js') },
  { path: '/join', who: 'anyone', load: () => import('./join.js') },
  { path: '/apply', who: 'anyone', load: () => import('./apply.js') },
  { path: '/designs/new', who: 'designer', load: () => import('./design-new.js') },
  { path: '/d/:slug', who: 'staff', tab: 'Board', load: () => import('./board.js') },
  { path: '/d/:slug/counts', who: 'staff', tab: 'Counts', load: () => import('./counts.js') },
  { path: '/d/:slug/samples', who: 'staff', tab: 'Samples', load: () => import('./samples.js') },
  { path: '/d/:slug/testing', who: 'staff', tab: 'Testing', load: () => import('./testing.js') },
  { path: '/d/:slug/reports/:id', who: 'staff', load: () => import('./report.js') },
  { path: '/d/:slug/fit', who: 'staff', tab: 'Fit', load: () => import('./fit.js') },
  { path: '/d/:slug/fit/report', who: 'staff', load: () => import('./fit-report.js') },
  { path: '/d/:slug/yarn', who: 'staff', tab: 'Yarn', load: () => import('./yarn.js') },
  { path: '/d/:slug/corrections', who: 'staff', tab: 'Corrections', load: () => import('./corrections.js') },
  { path: '/d/:slug/filming', who: 'staff', tab: 'Filming', load: () => import('./filming.js') },
  { path: '/d/:slug/filming/:installment/sheet', who: 'staff', load: () => import('./filming-sheet.js') },
  { path: '/d/:slug/release', who: 'staff', tab: 'Release', load: () => import('./release.js') },
  { path: '/d/:slug/schedule', who: 'staff', tab: 'Schedule', load: () => import('./schedule.js') },
  { path: '/d/:slug/history', who: 'staff', tab: 'History', load: () => import('./history.js') },
  { path: '/d/:slug/setup', who: 'staff', tab: 'Set up', load: () => import('./setup.js') },
  { path: '/people', who: 'staff', nav: 'People', load: () => import('./people.js') },
  { path: '/letters', who: 'designer', nav: 'Letters', load: () => import('./letters.js') },
  { path: '/settings', who: 'designer', nav: 'Settings', load: () => import('./settings.js') },
  { path: '/corrections/:design', who: 'anyone', load: () => import('./corrections-public.js') },
  { path: '/privacy', who: 'anyone', load: () => import('./privacy.js') },
  { path: '/my', who: 'tester', nav: 'My testing', load: () => import('./my.js') },
  { path: '/my/:assignment', who: 'tester', load: () => import('./my-assignment.js') },
  { path: '/me', who: 'signed-in', load: () => import('./me.js') },
];

/**
 * The route of an address and what its placeholders stand for.
 * @param {string} pathname
 * @param {import('../shapes.js').Route[]} [routes]
 */
export function match(pathname, routes = ROUTES) {
  const asked = pathname.replace(/\/+$/, '').split('/');
  for (const route of routes) {
    const parts = route.path.replace(/\/+$/, '').split('/');
    if (parts.length !== asked.length) continue;
    /** @type {Record<string, string>} */
    const params = {};
    const fits = parts.every((part, i) => {
      if (!part.startsWith(':')) return part === asked[i];
      try {
        params[part.slice(1)] = decodeURIComponent(asked[i]);
      } catch {
        return false;
      }
      return asked[i] !== '';
    });
    if (fits) return { route, params };
  }
  return null;
}
