// What is typed and not on the disk yet, kept in the browser; a private window keeps nothing.
const keyOf = (slug, name) => `leafwright/${slug}/${name}`;

export function keep(slug, name, value) {
  try { localStorage.setItem(keyOf(slug, name), value); } catch { /* a private window */ }
}
export function drop(slug, name) {
  try { localStorage.removeItem(keyOf(slug, name)); } catch { /* as above */ }
}
export function kept(slug, name) {
  try { return localStorage.getItem(keyOf(slug, name)); } catch { return null; }
}
export function keptNames(slug) {
  try {
    return Object.keys(localStorage)
      .filter((key) => key.startsWith(keyOf(slug, "")))
      .map((key) => key.slice(keyOf(slug, "").length));
  } catch { return []; }
}
