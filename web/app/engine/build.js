// Where this build of the site is.

/** The folder of this build, `…/v/<build>/`. */
export const BUILD_URL = new URL("../../", import.meta.url).href;

/** The folder of the site, where index.html is. */
export const SITE_URL = new URL("../../", BUILD_URL).href;

/** The id of this build. */
export const BUILD = BUILD_URL.slice(0, -1).split("/").at(-1) ?? "";

/** The folder of the browser's Python. */
export const PYTHON_URL = new URL("python/", BUILD_URL).href;
