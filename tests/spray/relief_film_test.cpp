// Film on curved surfaces, against the inverse formulation: solid angle at the nozzle.
#include "fadewright/spray/panel.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;
using test::at;

namespace {

struct Vec {
    double x, y, z;
};
double dot(Vec a, Vec b) { return a.x * b.x + a.y * b.y + a.z * b.z; }

Gun gun_at(double distance) {
    Gun gun = test::round_gun(20);
    gun.distance = Millimetres{distance};
    return gun;
}

// q = q_h (h/l)^2 cos(gamma) / cos^3(theta) with l the ray, theta off the axis, gamma its incidence; the gun
// goes along y above x, at the height h over the plane z = 0, far before and far behind.
double pass_film_um(const Gun& gun, double gun_x, Vec surface, Vec normal) {
    const double h = gun.distance.value, sigma = gun.sigma.value;
    const double landed_mm3_s = gun.flow.value * 1000 / 60 * gun.transfer_efficiency.value;
    const double speed = 250;
    return 1000 * landed_mm3_s / speed *
           test::integral(
               -400, 400,
               [&](double y) {
                   const Vec ray{surface.x - gun_x, surface.y - y, surface.z - h};
                   const double l = std::sqrt(dot(ray, ray));
                   const double cos_theta = -ray.z / l;
                   const double cos_gamma = -dot(ray, normal) / l;
                   const double px = ray.x / -ray.z * h,
                                py = ray.y / -ray.z * h;  // where the ray crosses the plane
                   const double q_h = std::exp(-(px * px + py * py) / (2 * sigma * sigma)) /
                                      (2 * std::numbers::pi * sigma * sigma);
                   return q_h * (h / l) * (h / l) * cos_gamma / (cos_theta * cos_theta * cos_theta);
               },
               4000);
}

Deposit along_y(const Gun& gun, double x, ReliefPart relief_part) {
    const auto relief =
        std::make_shared<Relief>(std::vector<ReliefPart>{relief_part}, Box{-150, -150, 150, 150});
    const std::vector<Pass> passes{test::straight(at(x, -400), at(x, 400))};
    return Deposit(gun, passes, relief);
}

}  // namespace

TEST_CASE("film on a cylinder follows distance and incidence", "[spray][property]") {
    const Gun gun = gun_at(160);
    const double R = 90;
    const Deposit d = along_y(gun, 10, Cylinder{{0, 0}, Degrees{90}, Millimetres{R}});
    const double peak = d.wet_um(10, 0);
    for (const double angle : {-60.0, -35.0, -10.0, 0.0, 20.0, 45.0, 65.0}) {
        const double a = angle * std::numbers::pi / 180;
        const Vec normal{std::sin(a), 0, std::cos(a)};
        const Vec surface{R * std::sin(a), 0, R * (std::cos(a) - 1)};
        CAPTURE(angle);
        CHECK(d.wet_um(surface.x, 0) ==
              Approx(pass_film_um(gun, 10, surface, normal)).epsilon(0.002).margin(1e-4 * peak));
    }
}

TEST_CASE("film on a sphere follows distance and incidence", "[spray][property]") {
    const Gun gun = gun_at(140);
    const double R = 110;
    const Deposit d = along_y(gun, 0, Sphere{{0, 0}, Millimetres{R}});
    const double peak = d.wet_um(0, 0);
    for (const double x : {-80.0, -30.0, 0.0, 25.0, 70.0})
        for (const double y : {-60.0, 0.0, 40.0}) {
            const double z = std::sqrt(R * R - x * x - y * y);
            const Vec normal{x / R, y / R, z / R};
            CAPTURE(x, y);
            CHECK(d.wet_um(x, y) ==
                  Approx(pass_film_um(gun, 0, {x, y, z - R}, normal)).epsilon(0.002).margin(1e-4 * peak));
        }
}

TEST_CASE("a dome receives the paint of the plane area that it shadows", "[spray][volume]") {
    // Every ray that crosses the plane z = 0 inside the dome's base has crossed the dome.
    const Gun gun = gun_at(150);
    const auto foot = std::make_shared<Outline>(Outline::circle({100, 100}, Millimetres{70}));
    const auto dome = std::make_shared<Relief>(
        std::vector<ReliefPart>{Dome{{100, 100}, Millimetres{70}, Millimetres{25}}}, Box{0, 0, 200, 200});
    Pass spot;
    spot.points = {at(100, 100)};
    spot.dwell = Seconds{1};
    const std::vector<Pass> passes{spot};
    const Panel flat{Millimetres{200}, Millimetres{200}, Millimetres{0}, foot, nullptr};
    const Panel domed{Millimetres{200}, Millimetres{200}, Millimetres{0}, foot, dome};
    CHECK(landed_volume(Deposit(gun, passes, dome), domed).value ==
          Approx(landed_volume(Deposit(gun, passes), flat).value).epsilon(1e-3));
    CHECK(domed.surface_m2() > 1.05 * flat.surface_m2());
    // Area of a cap: pi (r^2 + h^2).
    CHECK(domed.surface_m2() == Approx(std::numbers::pi * (70 * 70 + 25 * 25) * 1e-6).epsilon(1e-3));
}

TEST_CASE("the flank of a groove that faces the heeled gun receives more", "[spray]") {
    Gun gun = test::fan_gun(90, 30, 3, 2.5);
    const Groove groove{
        PolylineSet(std::vector<Ring>{{{-200, 0}, {200, 0}}}), Millimetres{24}, Millimetres{12}, {}};
    const auto relief = std::make_shared<Relief>(std::vector<ReliefPart>{groove}, Box{-200, -50, 200, 50});
    Pass pass = test::straight(at(-200, 0), at(200, 0));
    pass.heel_angle = Degrees{30};  // from below, sprayed upwards: to the left of the travel
    const std::vector<Pass> passes{pass};
    const Deposit d(gun, passes, relief);
    CHECK(d.wet_um(0, 6) > 1.5 * d.wet_um(0, -6));
    const std::vector<Pass> square{test::straight(at(-200, 0), at(200, 0))};
    const Deposit straight(gun, square, relief);
    CHECK(straight.wet_um(0, 6) == Approx(straight.wet_um(0, -6)));
    // On a flank of 45 degrees the same paint covers 1.41 times the area, a little farther away.
    const Deposit flat(gun, square);
    CHECK(straight.wet_um(0, 6) / flat.wet_um(0, 6) == Approx(1 / std::numbers::sqrt2).epsilon(0.1));
}

TEST_CASE("paint outside an outline is lost, and no other", "[spray][volume]") {
    const Gun gun = test::fan_gun(120, 50, 2, 2.5);
    const std::vector<Pass> passes{test::straight(at(-80, 100), at(280, 90)),
                                   test::straight(at(-80, 60), at(280, 150))};
    const Deposit d(gun, passes);
    const auto ring =
        std::make_shared<Outline>(std::vector<Ring>{Outline::circle({100, 100}, Millimetres{80}).rings()[0],
                                                    Outline::circle({110, 95}, Millimetres{30}).rings()[0]});
    const Panel panel{Millimetres{200}, Millimetres{200}, Millimetres{0}, ring, nullptr};
    double sum_um = 0;
    const double step = 0.25;
    for (double y = step / 2; y < 200; y += step)
        for (double x = step / 2; x < 200; x += step)
            if (panel.inside(x, y)) sum_um += d.wet_um(x, y);
    CHECK(landed_volume(d, panel).value == Approx(sum_um * step * step * 1e-6).epsilon(1e-3));
    CHECK(landed_volume(d, panel).value < 0.6 * d.landed_on_infinite_plane().value);
}

TEST_CASE("the order of passes within a wet coat does not matter, and resolution neither",
          "[spray][property]") {
    const Gun gun = test::fan_gun(120, 50, 2, 2.5);
    std::vector<Pass> passes{test::straight(at(-80, 100), at(280, 90)),
                             test::straight(at(-80, 60), at(280, 150), 90)};
    passes[1].heel_angle = Degrees{20};
    passes.push_back(test::straight(at(30, 0), at(60, 200)));
    const Deposit deposit(gun, passes);
    const Deposit reversed(gun, std::vector<Pass>(passes.rbegin(), passes.rend()));
    double peak = 0;
    for (double y = 0; y <= 200; y += 13)
        for (double x = 0; x <= 200; x += 17) {
            CHECK(deposit.wet_um(x, y) == Approx(reversed.wet_um(x, y)).epsilon(1e-12));
            peak = std::max(peak, deposit.wet_um(x, y));
        }
    // A cell of 2 mm against the mean of its four quarters.
    for (double y = 1; y <= 200; y += 14)
        for (double x = 1; x <= 200; x += 18) {
            const double fine = (deposit.wet_um(x - 0.5, y - 0.5) + deposit.wet_um(x + 0.5, y - 0.5) +
                                 deposit.wet_um(x - 0.5, y + 0.5) + deposit.wet_um(x + 0.5, y + 0.5)) /
                                4;
            CHECK(deposit.wet_um(x, y) == Approx(fine).margin(1e-3 * peak));
        }
}
