const THEMES = ["night", "dim", "day"];
const KEPT = "wiremark-theme";

/**
 * Return the theme this tablet was last set to. It is a matter of light, not of record:
 * losing it costs nothing.
 * @returns {string}
 */
export function themeNow() {
  const kept = localStorage.getItem(KEPT) ?? "";
  return THEMES.includes(kept) ? kept : "night";
}

/**
 * Return the theme that follows: night, dimmer, day, night.
 * @param {string} theme
 * @returns {string}
 */
export function nextTheme(theme) {
  return THEMES[(THEMES.indexOf(theme) + 1) % THEMES.length] ?? "night";
}

/**
 * Show the page in a theme, now and at the next start.
 * @param {string} theme
 */
export function useTheme(theme) {
  document.documentElement.dataset.theme = theme;
  localStorage.setItem(KEPT, theme);
}
