// The few acts that tests and benches share, by role and name only.

/// Opens the demo job from the first screen.
export async function openDemo(page) {
  await page.getByRole("button", { name: /demo/i }).first().click();
  await page.waitForSelector("body[data-ready]", { state: "attached" });
}
