// The few acts that tests and benches share, by role and name only.

/// Opens a demo job from the first screen, and waits for its own page.
export async function openDemo(page, title) {
  const list = page.getByRole("button", { name: "Look at an example" });
  const row = page.getByRole("button", { name: title }).first();
  await list.or(row).first().waitFor();
  if (await list.isVisible()) await list.click();
  await row.click();
  await page.getByRole("heading", { level: 1, name: title }).waitFor();
}
