"""The engines and the ways into the handbook, and the table of what was found: journeys × engines × ways."""

import zipfile

import bootstrap
import engines
import pytest
import saved
import table
from hosting import Host, visit

CLEAR = "() => { localStorage.clear(); sessionStorage.clear(); }"
FAILED = "() => Boolean(document.querySelector('section.calc[data-state=failed]'))"


def by_playwright(request, name):
    from engines import by_playwright
    from playwright.sync_api import Error

    if name == "chromium":
        return by_playwright.Engine(request.getfixturevalue("browser"))
    try:  # Playwright's own build of another engine
        bootstrap.fetch_by_playwright(name)
        return by_playwright.Engine(getattr(request.getfixturevalue("playwright"), name).launch())
    except (bootstrap.Missing, OSError, Error) as error:
        raise engines.Missing(
            "it is not on this machine, apt may not install it here, and Playwright's own build could not be fetched or"
            " started"
        ) from error


STARTS = 3  # of an engine: another process may take a port meanwhile, or the machine is busy


def start(request, name):
    """An engine of the machine, or what Playwright can fetch."""
    for left in reversed(range(STARTS)):
        try:
            if name == "firefox" and (path := bootstrap.firefox()):
                from engines import by_bidi

                return by_bidi.Engine(path)
            if name == "webkit" and (paths := bootstrap.webkit()):
                from engines import by_webdriver

                return by_webdriver.Engine(*paths)
            break
        except Exception as error:
            if not left:
                raise engines.Missing(f"it is here and did not start: {str(error).strip()[:300]}") from error
    return by_playwright(request, name)


@pytest.fixture(scope="module")
def started(request):
    """Engines by name, each started when a journey asks for it and ended with its module, since a WebKit left open
    keeps a processor busy; a missing one stays missing, and skips whoever asks for it.
    """
    found = {}

    def get(name):
        if name not in found:
            try:
                found[name] = start(request, name)
            except engines.Missing as reason:
                found[name] = reason
        if isinstance(found[name], engines.Missing):
            pytest.skip(f"{engines.NAMES[name]}: {found[name]}")
        return found[name]

    yield get
    for engine in found.values():
        if not isinstance(engine, engines.Missing):
            engine.close()


@pytest.fixture(scope="session")
def copy(site, tmp_path_factory):
    """The saved copy, unpacked as a reader does it."""
    folder = tmp_path_factory.mktemp("saved")
    with zipfile.ZipFile(site / saved.NAME) as archive:
        archive.extractall(folder)
    return (folder / saved.FOLDER).as_uri() + "/"


class Place:
    """An engine and a way in: where the handbook stands for it, and windows onto it."""

    def __init__(self, engine, base, visitor=None):
        self.engine, self.base, self.visitor = engine, base, visitor
        self.opened = []
        self.standing = visitor or engine.window()

    def window(self, **options):
        """A window without anything kept from before, but for the handbook itself."""
        window = self.visitor if self.visitor and not options else self.engine.window(**options)
        if window is not self.visitor:
            self.opened.append(window)
        if window is self.visitor or not (self.engine.apart or options):
            window.open(self.base + "licences.html")
            window.run(CLEAR)
        return window

    def at(self, name):
        """The window that stays from journey to journey, on this page: as the last one left it, or opened anew."""
        if self.standing.run("() => location.href.split('#')[0]") != self.base + name or self.standing.run(FAILED):
            self.standing.open(self.base + "licences.html")
            self.standing.run(CLEAR)
            self.standing.open(self.base + name)
        return self.standing

    def tidy(self):
        for window in self.opened:
            window.close()
        self.opened.clear()


@pytest.fixture(scope="module", params=[(name, way) for name in engines.NAMES for way in table.WAYS], ids="-".join)
def entrance(request, started, site):
    """Each engine with each way in; what is missing is told with its reason."""
    name, way = request.param
    engine = started(name)
    table.record(request.config).versions[name] = engine.version
    if way == "offline":
        host = Host(site)
        try:
            window = visit(engine, host.base)
        finally:
            host.stop()
        place = Place(engine, host.base, window)
    else:
        place = Place(engine, request.getfixturevalue({"http": "address", "disk": "copy"}[way]))
    yield place
    place.standing.close()


@pytest.fixture
def place(request, entrance):
    yield entrance
    entrance.tidy()


def pytest_itemcollected(item):
    if "entrance" in getattr(item, "fixturenames", ()):
        table.record(item.config).collected(item)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    report = yield
    if "entrance" in item.fixturenames and call.when == "setup":
        table.record(item.config).forget(item)
    if "entrance" in item.fixturenames and (report.when == "call" or report.outcome == "skipped" or report.failed):
        table.record(item.config).note(item, report)
    return report


def pytest_terminal_summary(terminalreporter, config):
    for line in table.record(config).summary():
        terminalreporter.write_line(line)


def pytest_sessionfinish(session):
    if hasattr(session.config, "workeroutput"):
        session.config.workeroutput["said"] = list(table.record(session.config).summary())
    if session.config.getoption("write_engines", False):
        table.record(session.config).write()
