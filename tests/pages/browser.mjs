// A browser without a network: whatever is asked for beside files is refused, and told.
import { createRequire } from "node:module";
import { join } from "node:path";

const ARGUMENTS = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync",
];

/** Packages are installed under target/, so that nothing lies beside the sources. */
export function packages(work) {
  const require = createRequire(join(work, "package.json"));
  return { chromium: require("playwright-core").chromium, axe: require("axe-core").source };
}

export function launch(chromium) {
  const executablePath = process.env.LOOMWRIGHT_CHROMIUM ?? "/usr/bin/chromium";
  return chromium.launch({ executablePath, args: ARGUMENTS });
}

/** Gives `act` a page of its own; what it asks of a network, and what it throws or pops up, is a fault. */
export async function withPage(browser, options, report, act) {
  const context = await browser.newContext(options);
  try {
    await context.route("**/*", (route) => {
      const url = route.request().url();
      if (url.startsWith("file://")) return route.continue();
      report(`asks for ${url}`);
      return route.abort();
    });
    const page = await context.newPage();
    page.setDefaultTimeout(60000);
    page.on("dialog", (dialog) => {
      report(`a script ran: dialog ${dialog.message()}`);
      return dialog.dismiss();
    });
    page.on("pageerror", (error) => report(`its script threw: ${error.message}`));
    return await act(page);
  } finally {
    await context.close();
  }
}
