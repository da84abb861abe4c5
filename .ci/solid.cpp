// Judges binary STL files by CGAL: corners made one where their coordinates are equal, then closed,
// free of self-intersection, bounding a volume, turned outwards. Prints the name of each file and its
// volume. Usage: solid FILE.stl...
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/orientation.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/repair_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Surface_mesh.h>

#include <array>
#include <cstdio>
#include <vector>

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;
namespace PMP = CGAL::Polygon_mesh_processing;

// fault is what is wrong with a file, nullptr if nothing.
static const char* fault(const char* name, double& volume) {
  std::vector<Kernel::Point_3> points;
  std::vector<std::array<std::size_t, 3>> triangles;
  if (!CGAL::IO::read_STL(name, points, triangles)) return "cannot be read";
  PMP::merge_duplicate_points_in_polygon_soup(points, triangles);
  if (!PMP::is_polygon_soup_a_polygon_mesh(triangles)) return "is not an oriented 2-manifold";
  Mesh mesh;
  PMP::polygon_soup_to_polygon_mesh(points, triangles, mesh);
  if (!CGAL::is_closed(mesh)) return "is not closed";
  if (PMP::does_self_intersect(mesh)) return "intersects itself";
  if (!PMP::does_bound_a_volume(mesh)) return "does not bound a volume";
  if (!PMP::is_outward_oriented(mesh)) return "is turned inwards";
  volume = PMP::volume(mesh);
  return nullptr;
}

int main(int argc, char** argv) {
  int bad = 0;
  for (int i = 1; i < argc; i++) {
    double volume = 0;
    if (const char* what = fault(argv[i], volume)) {
      std::printf("%s: CGAL: %s\n", argv[i], what);
      bad = 1;
      continue;
    }
    std::printf("%s\t%.12g\n", argv[i], volume);
  }
  return bad;
}
