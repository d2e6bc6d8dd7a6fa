"""The chamber page in a real browser without a window. usage: page_test.py BIN_DIR CASE"""
import sys
import time

from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from chamber_place import GROWER, Place, at

CHROMIUM = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-dev-shm-usage",
            "--disable-background-networking", "--disable-component-update", "--disable-sync"]
PROBE = '[[probe]]\nname = "sent"\nkind = "push"\n'
# Contrast as WCAG 2.2 defines it, of every text against the nearest background behind it: the worst.
WORST_CONTRAST = """
const lum = c => { const f = c.map(v => { v /= 255; return v <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4; });
                   return .2126 * f[0] + .7152 * f[1] + .0722 * f[2]; };
const parts = s => s.match(/[\\d.]+/g).map(Number);
const behind = e => { for (; e; e = e.parentElement) { const c = parts(getComputedStyle(e).backgroundColor);
                      if (c.length < 4 || c[3] > 0) return c.slice(0, 3); } return [255, 255, 255]; };
let worst = 99, where = '';
for (const e of document.querySelectorAll('main *, #line')) {
  const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
  if (!own || !e.getClientRects().length || e.tagName === 'title') continue;
  const style = getComputedStyle(e), ink = parts(e instanceof SVGElement ? style.fill : style.color).slice(0, 3);
  const [a, b] = [lum(ink), lum(behind(e))].sort((x, y) => y - x), ratio = (a + .05) / (b + .05);
  if (ratio < worst) { worst = ratio; where = e.tagName + ': ' + e.textContent.slice(0, 40); }
}
return [worst, where];"""


def browser():
    options = webdriver.ChromeOptions()
    for word in CHROMIUM:
        options.add_argument(word)
    options.binary_location = "/usr/bin/chromium"
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    return webdriver.Chrome(options=options, service=Service("/usr/bin/chromedriver"))


def address(place, query=""):
    return f"http://127.0.0.1:{place.port}/{query}"


def shows(web, place, text, seconds=20):
    place.wait_for(lambda: text in web.find_element(By.TAG_NAME, "body").text, seconds)


def press(web, what):
    """Focus and Enter, in one step: the page may renew itself at any moment."""
    web.execute_script("document.querySelector(arguments[0]).focus()", f".warning button[id$={what}]")
    ActionChains(web).send_keys(Keys.ENTER).perform()


def healing(place):
    """A batch inside, an hour of good air behind it, and a reading of now."""
    place.start()
    assert place.put("G1").status == 200
    hour = [{"probe": "sent", "at": at(-3600 + 30 * i), "temperature_degc": 25 + i % 3 * 0.1, "humidity_pct": 95}
            for i in range(119)]
    assert place.ask("POST", "/v1/readings", hour).status == 200
    assert place.push().status == 200


def standing(place):
    return [w for w in place.ask("GET", "/v1/status").json()["warnings"] if w["kind"] == "outside"]


def too_dry(place):
    """Dry for longer than the on-delay: a warning stands."""
    place.settings(PROBE, '[warnings]\non_delay = "1s"\n')
    healing(place)
    place.wait_for(lambda: place.push(moist=80) and standing(place))


def tells_what_is_now_and_how_it_went(place, web):
    healing(place)
    web.get(address(place))
    text = web.find_element(By.TAG_NAME, "body").text
    for words in ["Right for the batches in it", "25.0 °C", "should be 22 to 29 °C", "95 %", "should be 90 to 100 %", "kPa",
                  "dew point", "G1", "Quarry Pink/Ironfoot, 12", "closed", "2 d 2", "to go", "sent"]:
        assert words in text, (words, text)
    charts = web.execute_script("""return [...document.querySelectorAll('svg.chart')].map(c =>
        [c.querySelector('title').textContent, c.querySelectorAll('.line').length, c.querySelectorAll('.allowed').length,
         c.getBoundingClientRect().height])""")
    assert len(charts) == 2, charts
    for title, lines, bands, height in charts:
        assert title and lines and bands and height > 100, charts


def is_one_file_under_a_strict_policy(place, web):
    healing(place)
    policy = place.ask_tcp("GET", "/").headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy, policy
    web.get(address(place))
    time.sleep(1)
    asked = web.execute_script("return performance.getEntriesByType('resource').map(e => e.name)")
    assert all(name.startswith(address(place)) for name in asked), asked
    assert [entry for entry in web.get_log("browser") if entry["level"] == "SEVERE"] == []
    web.execute_script("const s = document.createElement('script'); s.textContent = 'window.broken = 1'; document.body.append(s)")
    assert web.execute_script("return window.broken") is None, "a foreign script ran"


def lives_without_being_loaded_again(place, web):
    healing(place)
    web.get(address(place))
    web.execute_script("window.kept = 1")
    place.push(2, moist=93, warm=27.5)  # a second may hold one reading only
    shows(web, place, "27.5 °C")
    assert web.execute_script("return window.kept") == 1, "it was loaded anew"


def says_when_nobody_answers_and_comes_back(place, web):
    healing(place)
    web.get(address(place))
    place.stop()
    shows(web, place, "No answer since")
    assert web.title == "no answer"
    place.start()
    place.push(2, warm=26.5)
    shows(web, place, "26.5 °C", 40)
    assert "No answer" not in web.find_element(By.TAG_NAME, "body").text


def warnings_are_answered_once_the_link_was_opened(place, web):
    too_dry(place)
    web.get(address(place))
    shows(web, place, "too dry")
    press(web, "acknowledge")
    shows(web, place, "?token=SECRET")
    web.get(address(place, f"?token={GROWER}"))
    assert GROWER not in web.current_url, "the secret stays in the address bar"
    press(web, "acknowledge")
    shows(web, place, ", seen ")
    press(web, "shelve")
    shows(web, place, "quiet until")
    warning = standing(place)[0]
    assert warning["acknowledged_at"] and warning["shelved_until_at"], warning


def fits_a_narrow_phone_and_can_be_read_by_day_and_night(place, web):
    too_dry(place)
    web.execute_cdp_cmd("Emulation.setDeviceMetricsOverride",
                        {"width": 360, "height": 740, "deviceScaleFactor": 2, "mobile": True})
    for scheme in ["light", "dark"]:
        web.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": scheme}]})
        web.get(address(place))
        assert web.execute_script("return document.documentElement.scrollWidth") <= 360
        worst, where = web.execute_script(WORST_CONTRAST)
        assert worst >= 4.5, (scheme, worst, where)
        sizes = web.execute_script("return [...document.querySelectorAll('button')].map(b => b.getBoundingClientRect().height)")
        assert sizes and min(sizes) >= 44, sizes  # for a wet thumb


def the_keyboard_reaches_every_button_and_shows_where_it_is(place, web):
    too_dry(place)
    web.get(address(place))
    reached = set()
    for _ in range(6):
        ActionChains(web).send_keys(Keys.TAB).perform()
        reached.add(tuple(web.execute_script("""const now = document.activeElement;
            return [now.id.split('-')[1] || '', getComputedStyle(now).outlineStyle];""")))
    assert {("acknowledge", "solid"), ("shelve", "solid")} <= reached, reached


def without_scripts_and_on_paper_it_still_tells(place, web):
    too_dry(place)
    web.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    web.get(address(place))
    text = web.find_element(By.TAG_NAME, "body").text
    assert "too dry" in text and "80 %" in text and "I have seen it" not in text, text
    web.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    web.get(address(place))
    web.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    assert "too dry" in web.find_element(By.TAG_NAME, "body").text
    shown = web.execute_script("return [...document.querySelectorAll('button')].filter(b => b.getClientRects().length).length")
    assert shown == 0, shown


def american_units_where_they_are_asked_for(place, web):
    place.settings(PROBE + '[chamber]\nunits = "us"\n')
    healing(place)
    web.get(address(place))
    text = web.find_element(By.TAG_NAME, "body").text
    assert "77.0 °F" in text and "should be 71.6 to 84.2 °F" in text and "°C" not in text, text


if __name__ == "__main__":
    with Place(sys.argv[1]) as the_place:
        the_web = browser()
        try:
            globals()[sys.argv[2]](the_place, the_web)
        finally:
            the_web.quit()
    print("passed:", sys.argv[2])
