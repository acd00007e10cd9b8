// What the page's scripts find on the window beside the browser's own, and what some engines have that the library of types lacks.

/** Set by classic scripts of the copy on disk: {name: base64 of gzip}. */
declare var handbookFiles: Record<string, string>;
/** The worker that the head of the page has started (scripts/site/runtime.py). */
declare var handbookWorker: (Worker & { broken?: boolean }) | undefined;
/** Fields in which something was typed before the page's script was there. */
declare var handbookTyped: any;
/** The theme's stream of pages, where it moves between them without loading them anew. */
declare var document$: { subscribe(act: () => void): void } | undefined;
/** What late scripts hand out. */
declare var handbookFigures: any;
declare var handbookCopy: any;
declare var handbook_plan: any;
declare var handbook_code: any;
declare var handbookIntact: any;
