// Judges 3MF files by lib3mf: read in strict mode without a warning, every object of the build valid,
// manifold and oriented. Prints FILE#OBJECT and the volume of each. Usage: package FILE.3mf...
#include <Model/COM/NMR_DLLInterfaces.h>

#include <cstdio>
#include <stdexcept>
#include <string>
#include <vector>

// must throws the library's word for what went wrong.
static void must(LIB3MFRESULT result, NMR::PLib3MFBase* at) {
  if (result == LIB3MF_OK) return;
  DWORD code = 0;
  LPCSTR text = nullptr;
  NMR::lib3mf_getlasterror(at, &code, &text);
  throw std::runtime_error(text ? text : "error " + std::to_string(result));
}

// volume sums the tetrahedra that the triangles span with the origin.
static double volume(NMR::PLib3MFModelMeshObject* mesh) {
  DWORD vertices = 0, triangles = 0;
  must(NMR::lib3mf_meshobject_getvertexcount(mesh, &vertices), mesh);
  must(NMR::lib3mf_meshobject_gettrianglecount(mesh, &triangles), mesh);
  std::vector<NMR::MODELMESHVERTEX> v(vertices);
  std::vector<NMR::MODELMESHTRIANGLE> t(triangles);
  must(NMR::lib3mf_meshobject_getvertices(mesh, v.data(), vertices, nullptr), mesh);
  must(NMR::lib3mf_meshobject_gettriangleindices(mesh, t.data(), triangles, nullptr), mesh);
  double sum = 0;
  for (const auto& c : t) {
    const float *p = v[c.m_nIndices[0]].m_fPosition, *q = v[c.m_nIndices[1]].m_fPosition, *r = v[c.m_nIndices[2]].m_fPosition;
    double a[3], b[3], d[3];
    for (int k = 0; k < 3; k++) a[k] = p[k], b[k] = q[k], d[k] = r[k];
    sum += a[0] * (b[1] * d[2] - b[2] * d[1]) + a[1] * (b[2] * d[0] - b[0] * d[2]) + a[2] * (b[0] * d[1] - b[1] * d[0]);
  }
  return sum / 6;
}

// judge prints the objects of one file.
static void judge(const std::string& file) {
  NMR::PLib3MFModel* model = nullptr;
  NMR::PLib3MFModelReader* reader = nullptr;
  must(NMR::lib3mf_createmodel(&model), nullptr);
  must(NMR::lib3mf_model_queryreader(model, "3mf", &reader), model);
  must(NMR::lib3mf_reader_setstrictmodeactive(reader, true), reader);
  must(NMR::lib3mf_reader_readfromfileutf8(reader, file.c_str()), reader);
  DWORD warnings = 0;
  must(NMR::lib3mf_reader_getwarningcount(reader, &warnings), reader);
  if (warnings) throw std::runtime_error(std::to_string(warnings) + " warnings");
  DWORD unit = 0;
  must(NMR::lib3mf_model_getunit(model, &unit), model);
  if (unit != NMR::MODELUNIT_MILLIMETER) throw std::runtime_error("unit is not the millimetre");
  NMR::PLib3MFModelBuildItemIterator* items = nullptr;
  must(NMR::lib3mf_model_getbuilditems(model, &items), model);
  BOOL more = false;
  while (must(NMR::lib3mf_builditemiterator_movenext(items, &more), items), more) {
    NMR::PLib3MFModelBuildItem* item = nullptr;
    NMR::PLib3MFModelObjectResource* object = nullptr;
    must(NMR::lib3mf_builditemiterator_getcurrent(items, &item), items);
    must(NMR::lib3mf_builditem_getobjectresource(item, &object), item);
    char name[256] = "";
    ULONG length = 0;
    must(NMR::lib3mf_object_getnameutf8(object, name, sizeof name, &length), object);
    BOOL good = false;
    must(NMR::lib3mf_object_isvalidobject(object, &good), object);
    if (!good) throw std::runtime_error(std::string(name) + " is not valid");
    must(NMR::lib3mf_meshobject_ismanifoldandoriented(object, &good), object);
    if (!good) throw std::runtime_error(std::string(name) + " is not manifold and oriented");
    std::printf("%s#%s\t%.12g\n", file.c_str(), name, volume(object));
  }
  NMR::lib3mf_release(reader);
  NMR::lib3mf_release(model);
}

int main(int argc, char** argv) {
  int bad = 0;
  for (int i = 1; i < argc; i++) {
    try {
      judge(argv[i]);
    } catch (const std::exception& e) {
      std::printf("%s: lib3mf: %s\n", argv[i], e.what());
      bad = 1;
    }
  }
  return bad;
}
