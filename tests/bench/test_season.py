"""The invented season is what its figures are said to be of."""

from .season import DAY_S, WEEK_S, WITH_PHOTO, amount, busiest, season


def test_the_same_seed_makes_the_same_season() -> None:
    assert season(20, 3, seed=8) == season(20, 3, seed=8)
    assert season(20, 3, seed=8) != season(20, 3, seed=9)


def test_most_comes_on_sunday_evening_and_in_the_order_of_time() -> None:
    deliveries = season(300, 4)
    assert [row.at_s for row in deliveries] == sorted(row.at_s for row in deliveries)
    on_sunday = [row for row in deliveries if row.at_s % WEEK_S >= 6 * DAY_S]
    whole = amount(deliveries)
    # By the middles: 0.6 meetings of 12, three quarters of them on Sunday, beside two deliveries of 3.
    assert 0.36 < amount(on_sunday).entries / whole.entries < 0.46
    assert abs(whole.photos / whole.entries - WITH_PHOTO) < 0.01


def test_the_busiest_time_has_what_no_other_has() -> None:
    deliveries = season(300, 4)
    busy = busiest(deliveries, 600)
    assert all(0 <= row.at_s < 600 for row in busy)
    entries = [0] * (4 * WEEK_S // 600)
    for row in deliveries:
        entries[int(row.at_s // 600)] += row.entries
    assert amount(busy).entries == max(entries)
